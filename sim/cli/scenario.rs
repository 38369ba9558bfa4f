//! Reads the scenario and the catch log named on the command line, and selects plans by name.

use std::io::stdin;
use std::path::{Path, PathBuf};

use anyhow::anyhow;

use super::args::{ScenarioArgs, source_of};
use super::exit_status::ExitError;
use crate::angler::PlanId;
use crate::catch_log::{CatchLog, load_catch_log, read_catch_log_from};
use crate::scenario::{Diagnostics, Scenario, SourceLocation, load_learned_book, nearest_name};

/// Reads the scenario with the values of `--set`, and then `varied`, the values of `--vary` as `KEY=VALUE`.
pub(super) fn read(args: &ScenarioArgs, varied: &[String]) -> Result<Scenario, ExitError> {
    let sets: Vec<String> = args.sets.iter().chain(varied).cloned().collect();
    let keys: Vec<&str> =
        varied.iter().filter_map(|set| Some(set.split_once('=')?.0.trim())).collect();
    let scenario = args.source()?.read(&sets).map_err(|faults| faults.attributed_to_vary(&keys))?;
    completed(scenario, args)
}

/// Reads a catch log; `-` is standard input, unless the scenario has it already.
pub(super) fn read_log(path: &Path, scenario: Option<&Path>) -> Result<CatchLog, ExitError> {
    if path != Path::new("-") {
        return Ok(load_catch_log(path)?);
    }
    if scenario == Some(path) {
        return Err(wrong(
            "standard input can be read only once: name a file for the scenario or the log",
        ));
    }
    Ok(read_catch_log_from(stdin().lock())?)
}

/// A scenario with the learned book and the fixed days that the arguments ask for.
pub(super) fn completed(
    mut scenario: Scenario,
    args: &ScenarioArgs,
) -> Result<Scenario, ExitError> {
    if let Some(book) = &args.book {
        let book = load_learned_book(book, &scenario)?;
        scenario.lay_over(book);
    }
    if args.fixed_days {
        scenario.fix_days();
    }
    Ok(scenario)
}

/// Reads several scenarios with the values of `--set`; `plans` are the names of the plans to keep, all if it is empty.
///
/// A key of `--set` and a plan may begin with the name of one scenario and a slash.
pub(super) fn read_waters(
    args: &ScenarioArgs,
    others: &[PathBuf],
    plans: &[String],
) -> Result<Vec<Scenario>, ExitError> {
    let paths = || std::iter::once(&args.path).chain(others);
    if paths().filter(|path| path.as_path() == Path::new("-")).count() > 1 {
        return Err(wrong(
            "standard input can be read only once: name a file for the other scenario",
        ));
    }
    let mut sources = vec![args.source()?.clone()];
    for path in others {
        sources.push(source_of(path)?);
    }
    let names: Vec<&str> = sources.iter().map(|source| source.name.as_str()).collect();
    if let Some(twice) = (1..names.len()).find(|&index| names[..index].contains(&names[index])) {
        return Err(wrong(&format!(
            "two scenarios are called {}: give one file another name, so that the names of their plans differ",
            names[twice]
        )));
    }
    let mut waters = Vec::new();
    for source in &sources {
        let sets: Vec<String> =
            args.sets.iter().filter_map(|set| in_water(set, &source.name, &names)).collect();
        let water = source.read(&sets).map_err(|faults| of_water(faults, &source.name))?;
        waters.push(completed(water, args)?);
    }
    keep_plans_of_waters(&mut waters, plans)?;
    Ok(waters)
}

/// Faults of one of several waters; a value of `--set` may have been meant for another one.
fn of_water(faults: Diagnostics, water: &str) -> ExitError {
    if faults.list().iter().all(|fault| fault.location != SourceLocation::Set) {
        return faults.into();
    }
    wrong(&format!(
        "in the scenario {water}:\n{faults}\nTo set a value in one scenario only, write --set {water}/KEY=VALUE"
    ))
}

/// What a word says for one of several waters: `pool/x` is `x` for the pool and nothing for the others, and a word without
/// the name of a water is said for all.
fn in_water(word: &str, water: &str, waters: &[&str]) -> Option<String> {
    match word.split_once('/') {
        Some((name, rest)) if waters.contains(&name) => (name == water).then(|| rest.to_owned()),
        _ => Some(word.to_owned()),
    }
}

/// Keeps only the named plans of each water; keeps all if `names` is empty.
fn keep_plans_of_waters(waters: &mut [Scenario], names: &[String]) -> Result<(), ExitError> {
    if names.is_empty() {
        return Ok(());
    }
    let water_names: Vec<String> = waters.iter().map(|water| water.name.clone()).collect();
    let water_names: Vec<&str> = water_names.iter().map(String::as_str).collect();
    let full_names: Vec<String> = waters
        .iter()
        .flat_map(|water| water.plans.iter().map(|plan| format!("{}/{}", water.name, plan.name)))
        .collect();
    for name in names {
        let is_known = waters.iter().any(|water| {
            let wanted = in_water(name, &water.name, &water_names);
            wanted.is_some_and(|wanted| water.plans.iter().any(|plan| plan.name == wanted))
        });
        if !is_known {
            let nearest = nearest_name(name, full_names.iter().map(String::as_str));
            let hint = nearest.map_or_else(String::new, |known| format!(" Did you mean {known}?"));
            return Err(wrong(&format!(
                "no scenario has a plan \"{name}\".{hint} There are: {}",
                full_names.join(", ")
            )));
        }
    }
    for water in waters {
        let wanted: Vec<String> =
            names.iter().filter_map(|name| in_water(name, &water.name, &water_names)).collect();
        water.plans.retain(|plan| wanted.contains(&plan.name));
        if water.plans.is_empty() {
            return Err(wrong(&format!(
                "no plan of {0} is left: name one of its plans too, as --plan {0}/NAME, or leave {0} out",
                water.name
            )));
        }
    }
    Ok(())
}

/// Wrong input, in one sentence.
fn wrong(text: &str) -> ExitError {
    ExitError::WrongInput(anyhow!("{text}"))
}

/// Keeps only the named plans, in the order of the scenario; keeps all if `names` is empty.
pub(super) fn keep_plans(scenario: &mut Scenario, names: &[String]) -> Result<(), ExitError> {
    for name in names {
        find_plan(scenario, name)?;
    }
    if !names.is_empty() {
        scenario.plans.retain(|plan| names.contains(&plan.name));
    }
    Ok(())
}

/// Index of the plan called `name`, or of the only plan if there is no name.
///
/// # Errors
///
/// [`ExitError::WrongInput`] with all names if there is more than one plan and no name, or no plan of that name.
pub(super) fn chosen_plan(scenario: &Scenario, name: Option<&str>) -> Result<PlanId, ExitError> {
    match name {
        Some(name) => find_plan(scenario, name),
        None if scenario.plans.len() == 1 => Ok(PlanId(0)),
        None => Err(wrong(&format!(
            "say which plan with --plan; {} has: {}",
            scenario.name,
            plan_names(scenario).join(", ")
        ))),
    }
}

/// Index of the plan called `name`.
///
/// # Errors
///
/// [`ExitError::WrongInput`] with all names and the nearest one if no plan has that name.
pub(super) fn find_plan(scenario: &Scenario, name: &str) -> Result<PlanId, ExitError> {
    let plans = &scenario.plans;
    plans.iter().position(|plan| plan.name == name).map(PlanId).ok_or_else(|| {
        let names = plan_names(scenario);
        let nearest = nearest_name(name, names.iter().map(String::as_str));
        let hint = nearest.map_or_else(String::new, |known| format!(" Did you mean {known}?"));
        ExitError::WrongInput(anyhow!(
            "{} has no plan \"{name}\".{hint} It has: {}",
            scenario.name,
            names.join(", ")
        ))
    })
}

/// Names of all plans, in the order of the scenario.
pub(super) fn plan_names(scenario: &Scenario) -> Vec<String> {
    scenario.plans.iter().map(|plan| plan.name.clone()).collect()
}
