//! `best`: searches for the best settings on some days and confirms them on others.

use std::fmt::Write as _;

use anyhow::anyhow;

use super::cost::estimated_time;
use crate::angler::PlanId;
use crate::cli::args::BestArgs;
use crate::cli::exit_status::ExitError;
use crate::cli::formats::BestDocument;
use crate::cli::output::{
    Folder, RunSpec, earlier_results, json_document, publish, refuse_silence, shell_quoted,
    write_picture,
};
use crate::cli::scenario::{find_plan, keep_plans, plan_names, read};
use crate::cli::terminal::{notify, wrapped, wrapped_item};
use crate::cli::threads::run_study;
use crate::report::{counted, finalist_lines, search_chart_svg, search_sentences, search_table};
use crate::scenario::{Scenario, Units, has_ordered_values, vary_values};
use crate::study::{
    Objective, PlanVariant, SearchResult, SearchSpec, SearchStopped, Setting, evaluations_csv,
};

const MAX_SETTINGS: usize = 8;

/// Searches for the best settings, prints the result and writes the files.
pub fn best(args: &BestArgs) -> Result<(), ExitError> {
    let output = &args.run.output;
    let mut base = read(&args.scenario, &[])?;
    let settings = settings(args, &mut base)?;
    let objective = args.aim.in_scenario(&base);
    let search = SearchSpec {
        settings,
        objective: objective.map_err(|message| ExitError::WrongInput(anyhow!(message)))?,
        sessions: args.sessions,
        days: args.days,
        seed: args.run.simulation.seed,
        has_baseline: base.plans.len() == 1,
    };
    check_budget(&search)?;
    refuse_silence(output)?;
    let mut folder = choose_folder(args, &search, &base)?;
    let result = run_study(&args.run, u64::from(search.sessions), |control| {
        if !output.quiet {
            let combinations = search.space().size();
            let time = estimated_time(&base, search.seed, u64::from(search.sessions));
            notify(&format!(
                "{}, at most {}: {time}",
                counted(combinations, "combination"),
                counted(search.sessions, "session")
            ));
        }
        let mut plan_at = |point: &[usize]| plan_at(args, &base, &search.settings, point);
        crate::study::find_best(&base, &search, &mut plan_at, control)
    })?;
    let result = match result {
        Ok(result) => result,
        Err(unfinished) => return Err(interrupted(&mut folder, &search, &unfinished)?),
    };
    let units = args.run.simulation.units(&base);
    let document = document(args, &base, &result)?;
    publish(
        &mut folder,
        output,
        &document,
        |folder| write_files(folder, &result, &document, units),
        || best_text(args, &base, &result, units),
    )
}

/// The settings to search over; keeps in the scenario only the plans to choose from.
fn settings(args: &BestArgs, base: &mut Scenario) -> Result<Vec<Setting>, ExitError> {
    let mut settings = Vec::new();
    for text in &args.vary {
        let (key, values) = vary_values(text)?;
        if settings.iter().any(|setting: &Setting| setting.key == key) {
            return Err(ExitError::WrongInput(anyhow!(
                "--vary: {key} is varied twice: leave one out"
            )));
        }
        // Each value is read on its own first, so that faults are reported before anything is fished.
        for value in &values {
            read(&args.scenario, &[format!("{key}={value}")])?;
        }
        settings.push(Setting { is_ordered: has_ordered_values(&key), key, values });
    }
    keep_plans(base, &candidate_plans(args, base, &settings)?)?;
    if base.plans.len() > 1 {
        settings.push(Setting {
            key: Setting::PLAN.to_owned(),
            values: plan_names(base),
            is_ordered: false,
        });
    }
    if settings.is_empty() {
        return Err(ExitError::WrongInput(anyhow!(
            "there is nothing to choose: the scenario has one plan; give settings to vary, as in --vary \
             plan.NAME.recast=\"30 s..10 min/40 log\""
        )));
    }
    if settings.len() > MAX_SETTINGS {
        return Err(ExitError::WrongInput(anyhow!(
            "{} settings, the choice of the plan included; at most {MAX_SETTINGS} can be searched: leave some out, or \
             name one --plan",
            settings.len()
        )));
    }
    Ok(settings)
}

/// Names of the plans to choose from: those of `--plan`, otherwise the plan whose settings vary, otherwise none for all.
fn candidate_plans(
    args: &BestArgs,
    base: &Scenario,
    settings: &[Setting],
) -> Result<Vec<String>, ExitError> {
    let mut varied: Vec<String> = Vec::new();
    for setting in settings {
        let name = setting.key.strip_prefix("plan.").and_then(|rest| rest.split('.').next());
        if let Some(name) = name.filter(|name| !varied.iter().any(|other| other == name)) {
            varied.push(name.to_owned());
        }
    }
    for name in args.plans.iter().chain(&varied) {
        find_plan(base, name)?;
    }
    if args.plans.is_empty() {
        return Ok(varied);
    }
    if let Some(idle) = varied.iter().find(|name| !args.plans.contains(name)) {
        return Err(ExitError::WrongInput(anyhow!(
            "--vary: plan.{idle}: settings of a plan that is not fished change nothing: name it with --plan too, or \
             vary others"
        )));
    }
    Ok(args.plans.clone())
}

/// Refuses a search with too few sessions.
fn check_budget(search: &SearchSpec) -> Result<(), ExitError> {
    let min_sessions = search.min_sessions();
    if u64::from(search.sessions) < min_sessions {
        return Err(ExitError::WrongInput(anyhow!(
            "--sessions {} are too few: the search and its confirmation on {} need at least {min_sessions}; give as \
             many, or fewer --days",
            search.sessions,
            counted(search.days, "day"),
        )));
    }
    Ok(())
}

/// The scenario and plan at a point of the search; `None` if its values contradict one another.
fn plan_at(
    args: &BestArgs,
    base: &Scenario,
    settings: &[Setting],
    point: &[usize],
) -> Option<PlanVariant> {
    if point.is_empty() {
        return Some(PlanVariant { scenario: base.clone(), plan: PlanId(0) });
    }
    let mut sets = Vec::new();
    let mut plan = base.plans.first()?.name.as_str();
    for (setting, &level) in settings.iter().zip(point) {
        match setting.key.as_str() {
            Setting::PLAN => plan = &setting.values[level],
            key => sets.push(format!("{key}={}", setting.values[level])),
        }
    }
    let scenario = read(&args.scenario, &sets).ok()?;
    let plan = scenario.plans.iter().position(|known| known.name == plan).map(PlanId)?;
    Some(PlanVariant { scenario, plan })
}

fn choose_folder(
    args: &BestArgs,
    search: &SearchSpec,
    base: &Scenario,
) -> Result<Folder, ExitError> {
    let aim = match search.objective {
        Objective::Weight => "weight".to_owned(),
        Objective::Target { target_kg } => format!("target={target_kg} kg"),
        Objective::Win { .. } => "win".to_owned(),
        Objective::Frame { .. } => "frame".to_owned(),
    };
    let mut request =
        RunSpec::new("best", base, search.seed, search.days, args.run.simulation.units(base));
    request.result_options.clone_from(&args.vary);
    request
        .result_options
        .extend([format!("--aim {aim}"), format!("--sessions {}", search.sessions)]);
    Ok(Folder::choose(args.run.output.folder(), request)?)
}

/// Name of the best plan.
fn best_plan<'a>(base: &'a Scenario, result: &'a SearchResult) -> &'a str {
    let chosen = result.settings.iter().find(|setting| setting.key == Setting::PLAN);
    chosen.map_or_else(|| base.plans[0].name.as_str(), |setting| setting.best_value.as_str())
}

/// The command that fishes the best plan on the days on which it was confirmed.
fn compare_command(args: &BestArgs, base: &Scenario, result: &SearchResult) -> String {
    let mut line =
        format!("shoalwise compare {}", shell_quoted(&args.scenario.path.display().to_string()));
    // Writing to a string does not fail.
    let _ = write!(line, " --plan {}", shell_quoted(best_plan(base, result)));
    for set in args.scenario.sets.iter().cloned().chain(result.overrides()) {
        let _ = write!(line, " --set {}", shell_quoted(&set));
    }
    let _ = write!(line, " --days {} --seed {}", result.days, result.stamp.seed);
    line
}

/// The result as JSON, with the command that fishes the best plan again.
fn document(args: &BestArgs, base: &Scenario, result: &SearchResult) -> Result<String, ExitError> {
    json_document(&BestDocument {
        result,
        plan: best_plan(base, result),
        sets: result.overrides().collect(),
        compare: compare_command(args, base, result),
    })
}

/// The result as a table and sentences.
fn best_text(args: &BestArgs, base: &Scenario, result: &SearchResult, units: Units) -> String {
    let mut text = format!("{}\n\n", search_table(result, units));
    for sentence in search_sentences(result, units) {
        let _ = writeln!(text, "{}", wrapped(&sentence));
    }
    let finalists = finalist_lines(result, units);
    if !finalists.is_empty() {
        text.push_str("\nOther finalists, on the same fresh days:\n");
    }
    for finalist in finalists {
        let _ = writeln!(text, "{}", wrapped_item(&finalist));
    }
    let _ = writeln!(text, "\nTo fish the best plan:\n{}", compare_command(args, base, result));
    text
}

/// Writes the table of tried plans, the chart and the JSON document.
fn write_files(
    folder: &mut Folder,
    result: &SearchResult,
    document: &str,
    units: Units,
) -> Result<(), ExitError> {
    let keys = result.settings.iter().map(|setting| setting.key.as_str());
    folder.write("best.csv", &evaluations_csv(keys, &result.evaluations)?)?;
    write_picture(folder, "best", &search_chart_svg(result, units))?;
    folder.write("best.json", document.as_bytes())?;
    Ok(folder.write_stamp(result.days)?)
}

/// Keeps the table of tried plans, unless the folder holds complete results of an earlier run.
///
/// Returns the error with which the interrupted command ends.
fn interrupted(
    folder: &mut Folder,
    search: &SearchSpec,
    unfinished: &SearchStopped,
) -> Result<ExitError, ExitError> {
    let progress = match unfinished.is_searched {
        true => "interrupted after the search, before its finalists were confirmed",
        false => "interrupted during the search",
    };
    if folder.is_nowhere() || folder.has_results() || unfinished.evaluations.is_empty() {
        return Ok(ExitError::Interrupted(format!("{progress}; {}", earlier_results(folder))));
    }
    let keys = search.settings.iter().map(|setting| setting.key.as_str());
    folder.write("best.csv", &evaluations_csv(keys, &unfinished.evaluations)?)?;
    // A run without its result counts as a run of zero days, so that the same run may replace it.
    folder.write_stamp(0)?;
    let path = folder.path().display();
    Ok(ExitError::Interrupted(format!("{progress}; the plans tried are kept in {path}/best.csv")))
}
