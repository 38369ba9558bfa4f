//! `now`: what each way to go on is worth, during a session.

use std::io::{Write, stdout};

use anyhow::anyhow;

use crate::catch_log::CatchLog;
use crate::cli::args::{NowArgs, UnitsArg};
use crate::cli::exit_status::ExitError;
use crate::cli::interrupt;
use crate::cli::output::json_document;
use crate::cli::scenario::{chosen_plan, read, read_log};
use crate::cli::terminal::text_width;
use crate::cli::threads::on_threads;
use crate::report::{clock, now_text, session_over};
use crate::study::{Control, LoggedPlan, NoProgress, NowError, NowSpec, last_time_s, logged_plans};

/// Reads today's log, simulates the session up to now and every way to go on, and prints what each is worth.
///
/// # Errors
///
/// [`ExitError::WrongInput`] if scenario, log, plan or time do not fit together.
pub fn now(args: &NowArgs) -> Result<(), ExitError> {
    let scenario = read(&args.scenario, &[])?;
    let plan = chosen_plan(&scenario, args.plan.as_deref())?;
    let log = read_log(&args.log, Some(&args.scenario.path))?;
    let log = today(log, args)?;
    let shown = args.log.display().to_string();
    let past = logged_plans(&log, &shown, &scenario)?.pop();
    let past = past.ok_or_else(|| ExitError::WrongInput(anyhow!("there is no cast in {shown}")))?;
    let clock_s = match args.at {
        Some(at_s) => after_the_start(at_s, &log, &past)?,
        None => last_time_s(&log),
    };
    let stop = interrupt::listen()?;
    let control = Control { progress: &NoProgress, stop };
    let spec = NowSpec {
        scenario: &scenario,
        plan,
        log: &log,
        past: &past,
        clock_s,
        seed: args.seed,
        sessions: args.sessions,
    };
    let result = on_threads(args.threads, || crate::study::now(&spec, control))?;
    let result = result.map_err(|error| match error {
        NowError::Interrupted => ExitError::Interrupted("interrupted".to_owned()),
        NowError::Over { length_s, at_s } => {
            ExitError::WrongInput(anyhow!(session_over(&scenario.name, length_s, at_s)))
        }
    })?;
    let text = if args.json {
        json_document(&result)?
    } else {
        now_text(&result, UnitsArg::resolved(args.units, &scenario), text_width())
    };
    Ok(stdout().write_all(text.as_bytes())?)
}

/// The log with one session: the named one, or the last.
fn today(mut log: CatchLog, args: &NowArgs) -> Result<CatchLog, ExitError> {
    let names: Vec<String> = log.sessions.iter().map(|session| session.name.clone()).collect();
    let place = match &args.session {
        Some(wanted) => names.iter().position(|name| name == wanted),
        None => names.len().checked_sub(1),
    };
    let place = place.ok_or_else(|| {
        ExitError::WrongInput(anyhow!(
            "{} has no session \"{}\"; it has: {}",
            args.log.display(),
            args.session.as_deref().unwrap_or_default(),
            names.join(", ")
        ))
    })?;
    log.sessions = vec![log.sessions.swap_remove(place)];
    Ok(log)
}

/// A time given with `--at`, on the log's clock [s].
fn after_the_start(at_s: f64, log: &CatchLog, past: &LoggedPlan) -> Result<f64, ExitError> {
    if at_s >= past.start_s {
        return Ok(at_s);
    }
    Err(ExitError::WrongInput(anyhow!(
        "--at {} is before the session of the log, which starts at {}; give the time as the log {} has it",
        clock(at_s),
        clock(past.start_s),
        log.name
    )))
}
