//! `compare`: fishes every plan on the same days and says which is best and why.

use super::sensitivity::compare_with_sensitivity;
use super::sweep_job::SweepJob;
use crate::cli::args::{CompareArgs, MAX_DAYS_UNTIL_CLEAR};
use crate::cli::exit_status::ExitError;
use crate::cli::interrupt;
use crate::cli::output::{ComparisonFiles, Folder, run_request};
use crate::cli::progress::ProgressDisplay;
use crate::cli::scenario::{keep_plans, read};
use crate::cli::threads::on_threads;
use crate::scenario::Scenario;
use crate::study::{Control, DayOutcomes, Sampling, Shard, UntilClearResult, compare_until_clear};

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
            options: &args.run,
        };
        return job.run();
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
    let request = run_request("compare", scenario, seed, args.days.unwrap_or(0));
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
    let result = on_threads(args.run.threads, || match args.days {
        Some(days) => compare_days(scenario, seed, days, control, write_day),
        None => compare_until_clear(scenario, seed, MAX_DAYS_UNTIL_CLEAR, control, write_day),
    });
    progress.finish();
    match result.flatten().inspect_err(|_| files.discard())? {
        UntilClearResult::Done(comparison) => {
            let units = args.run.simulation.units(scenario);
            files.publish(&comparison, scenario, units, output)
        }
        UntilClearResult::Interrupted { days } => Err(files.interrupted(days, args.days)?),
    }
}

/// Fishes a fixed number of days.
fn compare_days(
    scenario: &Scenario,
    seed: u64,
    days: u32,
    control: Control<'_>,
    write_day: impl FnMut(&DayOutcomes) -> Result<(), ExitError> + Send,
) -> Result<UntilClearResult, ExitError> {
    let comparison = crate::study::compare(scenario, seed, days, control, write_day)?;
    Ok(match comparison.days {
        done if done < days => UntilClearResult::Interrupted { days: done },
        _ => UntilClearResult::Done(Box::new(comparison)),
    })
}
