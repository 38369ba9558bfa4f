//! Time that a run will take, estimated before it starts.

use crate::report::duration;
use crate::scenario::Scenario;
use crate::study::seconds_per_session;

/// Days fished by every plan to measure the time of a session.
const TIMED_DAYS: u32 = 16;

/// Estimated time of `sessions` sessions on the current pool of threads, in words; fishes a few days to measure it.
pub(super) fn estimated_time(scenario: &Scenario, seed: u64, sessions: u64) -> String {
    time_in_words(seconds_per_session(TIMED_DAYS, seed, |_| scenario), sessions)
}

/// Time of `sessions` sessions of `session_s` each, in words; at least a second.
pub(super) fn time_in_words(session_s: f64, sessions: u64) -> String {
    format!("about {}", duration((session_s * sessions as f64).max(1.0)))
}
