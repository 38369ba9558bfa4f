//! Fishes every plan on the same days, in parallel, and hands the days over in their order.

use std::ops::RangeInclusive;

use rayon::prelude::*;
use serde::{Deserialize, Serialize};

use super::progress::Control;
use crate::scenario::Scenario;
use crate::session::{Day, Outcome, fish_session};
use crate::water::Conditions;

/// Days that are fished at once before they are handed over.
const CHUNK_DAYS: u32 = 32;

/// One day, fished by every plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct DayFished {
    /// Its number, from 1.
    pub number: u32,
    /// Its weather.
    pub conditions: Conditions,
    /// What was drawn for everything that nobody knows, as [`Day::unknowns`] has it.
    pub unknowns: Vec<f64>,
    /// What each plan's session came to, in the order of the scenario.
    pub outcomes: Vec<Outcome>,
}

/// Fishes every plan of a scenario on `days` of a seed; returns the number of the last day handed over.
///
/// Each day is drawn once and fished by all plans. Days are fished in parallel, a chunk at a time, and
/// handed to `each_day` in order on the calling thread, so that whatever is added up there is the same to the
/// last bit on any number of threads, and only one chunk is ever held in memory.
///
/// Where it is stopped, the chunk at hand is dropped and the number returned is less than the last one
/// asked for. The days 1 to 300 and then 301 to 400 are the days 1 to 400.
///
/// # Errors
///
/// The first error of `each_day`.
pub fn replicate<E>(
    scenario: &Scenario,
    seed: u64,
    days: RangeInclusive<u32>,
    control: Control<'_>,
    mut each_day: impl FnMut(&DayFished) -> Result<(), E>,
) -> Result<u32, E> {
    let (mut done, last) = (days.start().saturating_sub(1), *days.end());
    while done < last {
        let until = done.saturating_add(CHUNK_DAYS).min(last);
        let chunk: Option<Vec<DayFished>> = (done + 1..=until)
            .into_par_iter()
            .map(|number| fish_day(scenario, seed, number, control))
            .collect();
        let Some(chunk) = chunk else { break };
        chunk.iter().try_for_each(&mut each_day)?;
        done = until;
    }
    Ok(done)
}

/// Fishes one day with every plan; none if it was stopped.
fn fish_day(
    scenario: &Scenario,
    seed: u64,
    number: u32,
    control: Control<'_>,
) -> Option<DayFished> {
    if control.is_stopped() {
        return None;
    }
    let day = Day::draw(scenario, seed, number);
    let outcomes: Option<Vec<Outcome>> = scenario
        .plans
        .par_iter()
        .map(|plan| {
            let outcome = (!control.is_stopped()).then(|| fish_session(scenario, plan, &day));
            control.progress.session_is_done();
            outcome
        })
        .collect();
    let unknowns = day.unknowns(scenario);
    Some(DayFished { number, conditions: day.conditions, unknowns, outcomes: outcomes? })
}
