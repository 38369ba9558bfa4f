//! `compare`: fishes every plan on the same days and says which is best and why.

use anyhow::anyhow;

use super::sensitivity::compare_with_sensitivity;
use super::sweep_job::SweepJob;
use crate::cli::args::CompareArgs;
use crate::cli::exit_status::ExitError;
use crate::cli::interrupt;
use crate::cli::output::{ComparisonFiles, Folder, run_request};
use crate::cli::progress::ProgressDisplay;
use crate::cli::scenario::{keep_plans, read};
use crate::cli::threads::on_threads;
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
    compare_plans(args, &scenario)
}

/// Fishes all plans on the same days, prints the comparison and writes its files.
fn compare_plans(args: &CompareArgs, scenario: &Scenario) -> Result<(), ExitError> {
    let (seed, output) = (args.run.simulation.seed, &args.run.output);
    let request = run_request(
        "compare",
        scenario,
        seed,
        args.days.unwrap_or(0),
        args.run.simulation.units(scenario),
    );
    let folder = match args.days {
        Some(_) => Folder::choose(output.folder(), request)?,
        None => Folder::choose_until_clear(output.folder(), request)?,
    };
    let stop = interrupt::listen()?;
    let sessions = u64::from(args.days.unwrap_or(0)) * scenario.plans.len() as u64;
    let progress = ProgressDisplay::new(sessions, output.quiet);
    let control = Control { progress: &progress, stop };
    let mut files = ComparisonFiles::new(folder);
    let write_day = |day: &DayOutcomes| files.write_day(scenario, day);
    let result = on_threads(args.run.threads, || {
        let comparing = Compare::new(scenario).seed(seed);
        let comparing = match args.days {
            Some(days) => comparing.days(days),
            None => comparing.until_clear(Compare::LIMIT_DAYS),
        };
        comparing.run_with(control, write_day)
    });
    progress.finish();
    match result.flatten().inspect_err(|_| files.discard())? {
        CompareResult::Done(comparison) => {
            let units = args.run.simulation.units(scenario);
            files.publish(&comparison, scenario, units, output)
        }
        CompareResult::Interrupted { days } => Err(files.interrupted(days, args.days)?),
    }
}
