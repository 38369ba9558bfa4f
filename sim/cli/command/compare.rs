//! `compare`: fishes every plan on the same days and says which is best and why; of several waters, each on its own days.

use std::io::{Write, stdout};

use anyhow::anyhow;

use super::cost::announce_days;
use super::sensitivity::compare_with_sensitivity;
use super::sweep_job::SweepJob;
use crate::cli::args::CompareArgs;
use crate::cli::exit_status::ExitError;
use crate::cli::output::{
    ComparisonFiles, Folder, RunSpec, WatersFiles, comparison_document, waters_document,
    waters_request,
};
use crate::cli::scenario::{keep_plans, read, read_waters};
use crate::cli::threads::run_study;
use crate::report::{comparison_markdown, counted, waters_markdown};
use crate::scenario::{Scenario, Units};
use crate::study::{
    Compare, CompareResult, CompareWaters, DayOutcomes, Sampling, Shard, WatersOutcome,
};

/// Runs one of the five forms of `compare`: the plain one, `--vary`, `--part`, `--doubt` and that of several waters.
pub fn compare(args: &CompareArgs) -> Result<(), ExitError> {
    if !args.others.is_empty() {
        return compare_waters(args);
    }
    let share = args.part.unwrap_or(Shard::WHOLE);
    if !args.vary.is_empty() || !share.is_whole() {
        // A share is a sweep over one point, whose days are its pieces of work.
        let job = SweepJob {
            command: "compare",
            scenario: &args.scenario,
            plans: &args.plans,
            vary: &args.vary,
            spread: Sampling::Grid,
            days: args.days_or_default(),
            share,
            repair: args.repair,
            options: &args.run,
        };
        return job.run();
    }
    if args.repair {
        return Err(ExitError::WrongInput(anyhow!(
            "--repair is for runs that keep a store: give --vary or --part as in the run to be repaired, or omit it"
        )));
    }
    let mut scenario = read(&args.scenario, &[])?;
    keep_plans(&mut scenario, &args.plans)?;
    if args.doubt {
        return compare_with_sensitivity(args, &scenario);
    }
    match args.run.output.is_without_files() {
        true => print_plans(args, &scenario),
        false => compare_plans(args, &scenario),
    }
}

/// Fishes all plans on the same days and prints the comparison; writes no files.
fn print_plans(args: &CompareArgs, scenario: &Scenario) -> Result<(), ExitError> {
    if args.catches {
        return Err(ExitError::WrongInput(anyhow!(
            "--catches writes a file, and --out - writes none: leave one of the two out"
        )));
    }
    refuse_silence(args)?;
    let sessions = u64::from(args.days.unwrap_or(0)) * scenario.plans.len() as u64;
    let result = run_study(&args.run, sessions, |control| {
        announce_days(&args.run, &[scenario], args.days, "which prints nothing");
        comparing(args, scenario).run_controlled(control)
    })?;
    match result {
        CompareResult::Done(comparison) => {
            let units = args.run.simulation.units(scenario);
            let text = match args.markdown {
                true => comparison_markdown(&comparison, units),
                false => comparison_document(&comparison, scenario, units)?,
            };
            Ok(stdout().write_all(text.as_bytes())?)
        }
        CompareResult::Interrupted { days } => Err(ExitError::Interrupted(format!(
            "interrupted after {}; nothing was printed",
            counted(days, "day")
        ))),
    }
}

/// Refuses a run that would neither write nor print.
fn refuse_silence(args: &CompareArgs) -> Result<(), ExitError> {
    if !args.run.output.json && !args.markdown {
        return Err(ExitError::WrongInput(anyhow!(
            "--out - writes no files: say with --json or --markdown what to print, or name a folder"
        )));
    }
    Ok(())
}

/// The comparison that the arguments ask for.
fn comparing<'a>(args: &CompareArgs, scenario: &'a Scenario) -> Compare<'a> {
    let comparing = Compare::new(scenario).seed(args.run.simulation.seed);
    match args.days {
        Some(days) => comparing.days(days),
        None => comparing.until_clear(Compare::LIMIT_DAYS),
    }
}

/// Fishes all plans on the same days, prints the comparison and writes its files.
fn compare_plans(args: &CompareArgs, scenario: &Scenario) -> Result<(), ExitError> {
    let (seed, output) = (args.run.simulation.seed, &args.run.output);
    let mut request = RunSpec::new(
        "compare",
        scenario,
        seed,
        args.days.unwrap_or(0),
        args.run.simulation.units(scenario),
    );
    if args.catches {
        request.result_options.push("--catches".to_owned());
    }
    let folder = chosen_folder(args, request)?;
    let sessions = u64::from(args.days.unwrap_or(0)) * scenario.plans.len() as u64;
    let mut files = ComparisonFiles::new(folder).with_catches(args.catches);
    let write_day = |day: &DayOutcomes| files.write_day(scenario, day);
    let result = run_study(&args.run, sessions, |control| {
        announce_days(&args.run, &[scenario], args.days, "which keeps the finished days");
        comparing(args, scenario).run_with(control, write_day)
    });
    match result.flatten().inspect_err(|_| files.discard())? {
        CompareResult::Done(comparison) => {
            let units = args.run.simulation.units(scenario);
            files.publish(&comparison, scenario, units, output, args.markdown)
        }
        CompareResult::Interrupted { days } => Err(files.interrupted(days, args.days)?),
    }
}

/// Options that were given and that only a comparison of one scenario has.
fn options_of_one_water(args: &CompareArgs) -> Vec<&'static str> {
    let given = [
        ("--vary", !args.vary.is_empty()),
        ("--doubt", args.doubt),
        ("--part", args.part.is_some()),
        ("--repair", args.repair),
        ("--catches", args.catches),
    ];
    given.into_iter().filter_map(|(option, is_given)| is_given.then_some(option)).collect()
}

/// Fishes the plans of several waters, each on days of its own, and prints and writes the comparison.
fn compare_waters(args: &CompareArgs) -> Result<(), ExitError> {
    let refused = options_of_one_water(args);
    if !refused.is_empty() {
        return Err(ExitError::WrongInput(anyhow!(
            "several scenarios are compared without {}: leave it out, or run `compare` on each scenario alone",
            refused.join(" and ")
        )));
    }
    let is_without_files = args.run.output.is_without_files();
    if is_without_files {
        refuse_silence(args)?;
    }
    let scenarios = read_waters(&args.scenario, &args.others, &args.plans)?;
    let units = args.run.simulation.units(&scenarios[0]);
    let comparing = CompareWaters::new(&scenarios).seed(args.run.simulation.seed);
    let comparing = args.days.map_or(comparing, |days| comparing.days(days));
    let mut files = match is_without_files {
        true => None,
        false => {
            let folder = waters_folder(args, comparing, &scenarios, units)?;
            Some(WatersFiles::new(folder, &scenarios))
        }
    };
    let plans: usize = scenarios.iter().map(|scenario| scenario.plans.len()).sum();
    let sessions = u64::from(args.days.unwrap_or(0)) * plans as u64;
    let write_day = |water: usize, day: &DayOutcomes| match &mut files {
        Some(files) => files.write_day(water, day),
        None => Ok(()),
    };
    let all: Vec<&Scenario> = scenarios.iter().collect();
    let result = run_study(&args.run, sessions, |control| {
        announce_days(&args.run, &all, args.days, "which writes nothing");
        comparing.run_with(control, write_day)
    });
    let result = result.flatten().inspect_err(|_| {
        if let Some(files) = &mut files {
            files.discard();
        }
    });
    match (result?, files) {
        (WatersOutcome::Done(waters), Some(files)) => {
            files.publish(&waters, units, &args.run.output, args.markdown)
        }
        (WatersOutcome::Done(waters), None) => {
            let text = match args.markdown {
                true => waters_markdown(&waters, units),
                false => waters_document(&waters, &scenarios, units)?,
            };
            Ok(stdout().write_all(text.as_bytes())?)
        }
        (WatersOutcome::Interrupted { days }, Some(files)) => Err(files.interrupted(days)),
        (WatersOutcome::Interrupted { days }, None) => Err(ExitError::Interrupted(format!(
            "interrupted after {}; nothing was printed",
            counted(days, "day")
        ))),
    }
}

/// The folder of a comparison across waters.
fn waters_folder(
    args: &CompareArgs,
    comparing: CompareWaters<'_>,
    scenarios: &[Scenario],
    units: Units,
) -> Result<Folder, ExitError> {
    let waters: Vec<(&Scenario, u64)> = scenarios
        .iter()
        .enumerate()
        .map(|(index, scenario)| (scenario, comparing.seed_of(index)))
        .collect();
    let days = args.days.unwrap_or(0);
    let request = waters_request(&waters, &args.scenario.sets, days, units);
    chosen_folder(args, request)
}

/// The folder of a run on a given number of days, or until the verdict is clear.
fn chosen_folder(args: &CompareArgs, request: RunSpec) -> Result<Folder, ExitError> {
    let out = args.run.output.folder();
    Ok(match args.days {
        Some(_) => Folder::choose(out, request)?,
        None => Folder::choose_until_clear(out, request)?,
    })
}
