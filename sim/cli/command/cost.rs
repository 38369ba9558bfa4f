//! Time that a run will take, estimated before it starts.

use crate::cli::args::RunOptions;
use crate::cli::terminal::notify;
use crate::report::{counted, duration};
use crate::scenario::Scenario;
use crate::study::seconds_per_session;

/// Days fished by every plan to measure the time of a session.
const TIMED_DAYS: u32 = 16;

/// Estimated time of `sessions` sessions on the current pool of threads, in words; fishes a few days to measure it.
pub(super) fn estimated_time(scenario: &Scenario, seed: u64, sessions: u64) -> String {
    time_in_words(seconds_per_session(TIMED_DAYS, seed, |_| scenario), sessions)
}

/// Minimum number of sessions of a run that is announced; fewer take some seconds.
const MIN_ANNOUNCED_SESSIONS: u64 = 5_000;

/// Says how long a run on a given number of days takes, before it starts, unless that is a matter of seconds; call it on
/// the threads of the run. `kept` says what is kept if it is stopped.
pub(super) fn announce_days(
    options: &RunOptions,
    scenarios: &[&Scenario],
    days: Option<u32>,
    kept: &str,
) {
    let Some(days) = days.filter(|_| !options.output.quiet) else { return };
    let sessions_of = |scenario: &Scenario| u64::from(days) * scenario.plans.len() as u64;
    let sessions: u64 = scenarios.iter().map(|scenario| sessions_of(scenario)).sum();
    if sessions < MIN_ANNOUNCED_SESSIONS {
        return;
    }
    let seed = options.simulation.seed;
    let time_s = scenarios.iter().map(|scenario| {
        let session_s = seconds_per_session(TIMED_DAYS, seed, |_| *scenario);
        session_s * sessions_of(scenario) as f64
    });
    let time = time_in_words(time_s.sum::<f64>(), 1);
    notify(&format!("{}: {time}; stop it with Ctrl-C, {kept}", counted(sessions, "session")));
}

/// Time of `sessions` sessions of `session_s` each, in words; at least a second.
pub(super) fn time_in_words(session_s: f64, sessions: u64) -> String {
    const DAY_S: f64 = 86_400.0;
    let time_s = (session_s * sessions as f64).max(1.0);
    match time_s < 2.0 * DAY_S {
        true => format!("about {}", duration(time_s)),
        false => format!("about {}", counted((time_s / DAY_S).round() as u64, "day")),
    }
}
