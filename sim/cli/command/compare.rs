//! `compare`: fishes every plan on the same days and says which is best and why.

use std::io::{Write, stdout};

use anyhow::anyhow;

use super::sensitivity::compare_with_sensitivity;
use super::sweep_job::SweepJob;
use crate::cli::args::CompareArgs;
use crate::cli::exit_status::ExitError;
use crate::cli::interrupt;
use crate::cli::output::{ComparisonFiles, Folder, comparison_document, run_request};
use crate::cli::progress::ProgressDisplay;
use crate::cli::scenario::{keep_plans, read};
use crate::cli::threads::on_threads;
use crate::report::comparison_markdown;
use crate::scenario::Scenario;
use crate::study::{Compare, CompareResult, Control, DayOutcomes, Sampling, Shard};

/// Runs one of the four forms of `compare`: the plain one, `--vary`, `--part` and `--doubt`.
///
/// # Errors
///
/// [`ExitError`], as its variants say.
pub fn compare(args: &CompareArgs) -> Result<(), ExitError> {
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
    let output = &args.run.output;
    if args.catches {
        return Err(ExitError::WrongInput(anyhow!(
            "--catches writes a file, and --out - writes none: leave one of the two out"
        )));
    }
    if !output.json && !args.markdown {
        return Err(ExitError::WrongInput(anyhow!(
            "--out - writes no files: say with --json or --markdown what to print, or name a folder"
        )));
    }
    let stop = interrupt::listen()?;
    let sessions = u64::from(args.days.unwrap_or(0)) * scenario.plans.len() as u64;
    let progress = ProgressDisplay::new(sessions, output.quiet);
    let control = Control { progress: &progress, stop };
    let result = on_threads(args.run.threads, || comparing(args, scenario).run_controlled(control));
    progress.finish();
    match result? {
        CompareResult::Done(comparison) => {
            let units = args.run.simulation.units(scenario);
            let text = match args.markdown {
                true => comparison_markdown(&comparison, units),
                false => comparison_document(&comparison, scenario, units)?,
            };
            Ok(stdout().write_all(text.as_bytes())?)
        }
        CompareResult::Interrupted { days } => Err(ExitError::Interrupted(format!(
            "interrupted after {days} days; nothing was printed"
        ))),
    }
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
    let mut request = run_request(
        "compare",
        scenario,
        seed,
        args.days.unwrap_or(0),
        args.run.simulation.units(scenario),
    );
    if args.catches {
        request.result_options.push("--catches".to_owned());
    }
    let folder = match args.days {
        Some(_) => Folder::choose(output.folder(), request)?,
        None => Folder::choose_until_clear(output.folder(), request)?,
    };
    let stop = interrupt::listen()?;
    let sessions = u64::from(args.days.unwrap_or(0)) * scenario.plans.len() as u64;
    let progress = ProgressDisplay::new(sessions, output.quiet);
    let control = Control { progress: &progress, stop };
    let mut files = ComparisonFiles::new(folder).with_catches(args.catches);
    let write_day = |day: &DayOutcomes| files.write_day(scenario, day);
    let result =
        on_threads(args.run.threads, || comparing(args, scenario).run_with(control, write_day));
    progress.finish();
    match result.flatten().inspect_err(|_| files.discard())? {
        CompareResult::Done(comparison) => {
            let units = args.run.simulation.units(scenario);
            files.publish(&comparison, scenario, units, output, args.markdown)
        }
        CompareResult::Interrupted { days } => Err(files.interrupted(days, args.days)?),
    }
}
