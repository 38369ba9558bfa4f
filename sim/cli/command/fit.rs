//! `learn --scenario`: fits the simulator to a log.

use std::path::Path;

use anyhow::anyhow;

use super::cost::estimated_time;
use crate::catch_log::CatchLog;
use crate::cli::args::{LearnArgs, UnitsArg, source_of};
use crate::cli::exit_status::ExitError;
use crate::cli::formats::FitDocument;
use crate::cli::interrupt;
use crate::cli::output::{
    Folder, RunOrigin, RunSpec, json_document, publish, refuse_no_folder, write_picture,
};
use crate::cli::progress::ProgressDisplay;
use crate::cli::scenario::plan_names;
use crate::cli::terminal::{notify, text_width};
use crate::cli::threads::on_threads;
use crate::report::{counted, fit_text, grouped, misfit_text, next_text, unknowns_svg};
use crate::scenario::{Scenario, read_learned_book};
use crate::study::{
    Control, FitOutcome, FitResult, FitSpec, LogShare, LogShareError, NextResult, NextSpec,
    Progress, Shard, SimulatedCase, Stamp, TableFile, fit_from, fit_sessions, join_log_shares,
    logged_plans, next_sessions, simulate_share, table_identity, what_to_try_next,
};

/// Fits the simulator to a log, prints what it learnt and writes the learned book.
pub(super) fn fit_to_log(
    args: &LearnArgs,
    log_path: &Path,
    log: &CatchLog,
    scenario_path: &Path,
) -> Result<(), ExitError> {
    refuse_no_folder(&args.output, "a fit keeps its simulated logs and the learned book")?;
    let scenario = source_of(scenario_path)?.read(&args.sets)?;
    if args.next && scenario.plans.len() < 2 {
        return Err(ExitError::WrongInput(anyhow!(
            "--next is about the choice between two plans, and {} has one: write a second plan in it",
            scenario.name
        )));
    }
    let plans = logged_plans(log, &log_path.display().to_string(), &scenario)?;
    let spec = FitSpec {
        log,
        plans: &plans,
        scenario: &scenario,
        seed: args.seed,
        simulated_logs: args.logs,
        days: args.days,
    };
    if let Some(shard) = args.part {
        return simulate_part(args, &spec, LogShare { shard, logs: args.logs });
    }
    let joined = join_log_shares(&args.merge, &spec).map_err(|error| match error {
        LogShareError::Unreadable { .. } => ExitError::Failed(error.into()),
        _ => ExitError::WrongInput(error.into()),
    })?;
    let mut folder = Folder::choose(args.output.folder(), run_spec(&spec, args))?;
    let stop = interrupt::listen()?;
    let progress = ProgressDisplay::new(fit_sessions(&spec), args.output.quiet);
    let control = Control { progress: &progress, stop };
    let (result, book) = match simulate_and_fit(args, &spec, &joined, &mut folder, control)? {
        FitOutcome::Fitted { result, book } => (result, book),
        FitOutcome::Interrupted => return Err(interrupted(&folder)),
        misfit => {
            folder.discard_growing_file(TableFile::NAME);
            return Err(ExitError::WrongInput(anyhow!(misfit_text(&misfit, &scenario.name))));
        }
    };
    let units = UnitsArg::resolved(args.units, &scenario);
    let next = if args.next { Some(next(args, &scenario, &book, control)?) } else { None };
    progress.finish();
    let document = json_document(&FitDocument { fit: &result, next: next.as_ref() })?;
    publish(
        &mut folder,
        &args.output,
        &document,
        |folder| write_files(folder, &result, &document, &book),
        || {
            let width = text_width();
            let next = next.as_ref().map(|next| format!("\n{}", next_text(next, units, width)));
            fit_text(&result, units, width) + &next.unwrap_or_default()
        },
    )
}

/// Simulates the logs that are neither in the folder nor in `joined`, and fits to all.
fn simulate_and_fit(
    args: &LearnArgs,
    spec: &FitSpec<'_>,
    joined: &[SimulatedCase],
    folder: &mut Folder,
    control: Control<'_>,
) -> Result<FitOutcome, ExitError> {
    on_threads(args.threads, || {
        if !args.output.quiet {
            let sessions = fit_sessions(spec);
            let time = estimated_time(spec.scenario, args.seed, sessions);
            notify(&format!(
                "{} to simulate, {time}; fewer --logs take less time",
                counted(sessions, "session")
            ));
        }
        let path = folder.growing_file(TableFile::NAME)?;
        let (mut table, mut cases) = TableFile::open(&path, &table_identity(spec), None)?;
        if let Some(more) = joined.get(cases.len()..).filter(|more| !more.is_empty()) {
            table.add(cases.len(), more)?;
            cases.extend_from_slice(more);
        }
        if !cases.is_empty() && !args.output.quiet {
            let cases = grouped(cases.len() as u64);
            notify(&format!("{cases} of the logs were simulated before"));
        }
        (0..cases.len() * spec.plans.len()).for_each(|_| control.progress.on_session_done());
        fit_from(spec, cases, control, |from, chunk| Ok(table.add(from, chunk)?))
    })?
}

fn interrupted(folder: &Folder) -> ExitError {
    ExitError::Interrupted(format!(
        "interrupted; the logs simulated so far are in {}, and the same command goes on from there",
        folder.path().display()
    ))
}

/// Simulates a share of the logs, going on where an earlier run of the same share stopped.
fn simulate_part(args: &LearnArgs, spec: &FitSpec<'_>, share: LogShare) -> Result<(), ExitError> {
    let Shard { number, count } = share.shard;
    let name = format!("{}-learn-part-{number}-of-{count}", spec.scenario.name);
    let default = Path::new("output").join(name);
    let out = args.output.folder().unwrap_or(&default);
    let mut folder = Folder::choose(Some(out), run_spec(spec, args))?;
    let stop = interrupt::listen()?;
    let plans = spec.plans.len() as u64;
    let sessions = share.waters().len() as u64 * plans;
    let progress = ProgressDisplay::new(sessions, args.output.quiet);
    let control = Control { progress: &progress, stop };
    let is_complete = on_threads(args.threads, || -> Result<bool, ExitError> {
        let path = folder.growing_file(TableFile::NAME)?;
        let (mut table, cases) = TableFile::open(&path, &table_identity(spec), Some(share))?;
        (0..cases.len() as u64 * plans).for_each(|_| progress.on_session_done());
        simulate_share(spec, share, cases, control, |from, chunk| Ok(table.add(from, chunk)?))
    })??;
    progress.finish();
    if !is_complete {
        return Err(interrupted(&folder));
    }
    folder.write_stamp(0)?;
    if !args.output.quiet {
        notify(&format!(
            "share {} is complete in {}; the same command with --merge for each share instead of --part fits to all",
            share.shard,
            folder.path().display()
        ));
    }
    Ok(())
}

/// What to try next, on waters as the log leaves them.
fn next(
    args: &LearnArgs,
    scenario: &Scenario,
    book: &str,
    control: Control<'_>,
) -> Result<NextResult, ExitError> {
    let mut learned = scenario.clone();
    learned.lay_over(read_learned_book(book, "learned-book.toml", scenario)?);
    let spec = NextSpec {
        scenario: &learned,
        seed: args.seed,
        waters: args.waters,
        practice_s: args.practice_time,
        intervals_s: &args.intervals.0,
    };
    control.progress.on_sessions_announced(next_sessions(&spec));
    let next = on_threads(args.threads, || what_to_try_next(&spec, control))?;
    next.ok_or_else(|| ExitError::Interrupted("interrupted; nothing was written".to_owned()))
}

/// What decides the files of the run.
fn run_spec(spec: &FitSpec<'_>, args: &LearnArgs) -> RunSpec {
    let Scenario { name, sha256, .. } = spec.scenario;
    let mut result_options = vec![
        format!("log {} {}", spec.log.name, spec.log.sha256),
        format!("simulated logs {}", spec.simulated_logs),
    ];
    result_options.extend(args.part.map(|shard| format!("part {shard}")));
    if args.next {
        let (time_s, waters) = (args.practice_time, args.waters);
        result_options.push(format!("next {time_s} s {:?} s {waters} waters", args.intervals.0));
    }
    RunSpec {
        command: "learn",
        stamp: Stamp::new(name, sha256, spec.seed),
        plans: plan_names(spec.scenario),
        result_options,
        days: spec.days,
        origin: RunOrigin::new(spec.scenario, UnitsArg::resolved(args.units, spec.scenario)),
    }
}

fn write_files(
    folder: &mut Folder,
    result: &FitResult,
    document: &str,
    book: &str,
) -> Result<(), ExitError> {
    write_picture(folder, "unknowns", &unknowns_svg(result))?;
    folder.write("fit.json", document.as_bytes())?;
    folder.write("learned-book.toml", book.as_bytes())?;
    Ok(folder.write_stamp(result.days)?)
}
