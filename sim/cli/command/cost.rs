//! Time that a run will take, estimated before it starts.

use std::time::Instant;

use rayon::prelude::*;

use crate::report::duration;
use crate::scenario::Scenario;
use crate::session::{Day, run_session};

/// Days fished by every plan to measure the time of a session.
const TIMED_DAYS: u32 = 16;

/// Estimated time of `sessions` sessions on the current pool of threads, in words; fishes a few days to measure it.
pub(super) fn estimated_time(scenario: &Scenario, seed: u64, sessions: u64) -> String {
    let started = Instant::now();
    (1..=TIMED_DAYS).into_par_iter().for_each(|number| {
        let day = Day::draw(scenario, seed, number);
        scenario.plans.iter().for_each(|plan| drop(run_session(scenario, plan, &day)));
    });
    let timed = f64::from(TIMED_DAYS) * scenario.plans.len() as f64;
    let session_s = started.elapsed().as_secs_f64() / timed;
    format!("about {}", duration((session_s * sessions as f64).max(1.0)))
}
