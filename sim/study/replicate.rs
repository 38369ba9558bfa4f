//! Fishes every plan on the same days in parallel and delivers the days in order.

use std::ops::RangeInclusive;

use rayon::prelude::*;
use serde::{Deserialize, Serialize};

use super::progress::Control;
use super::runner::Runner;
use crate::scenario::Scenario;
use crate::session::Outcome;
use crate::water::Conditions;

/// Number of days that are fished in parallel before they are delivered.
const CHUNK_DAYS: u32 = 32;

/// One day, fished by every plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct DayOutcomes {
    /// Number of the day, from 1.
    pub number: u32,
    /// Weather of the day.
    pub conditions: Conditions,
    /// Draws of all uncertain inputs, as [`Day::uncertain_inputs`](crate::session::Day::uncertain_inputs) returns them.
    #[serde(rename = "unknowns")]
    pub uncertain_inputs: Vec<f64>,
    /// Outcome of each plan's session, in the order of the scenario.
    pub outcomes: Vec<Outcome>,
}

/// Fishes every plan of a scenario on `days` of a seed; returns the number of the last day delivered.
///
/// Each day is drawn once and fished by all plans. Days are fished in parallel, in chunks, and delivered to
/// `each_day` in order on the calling thread. Sums are therefore the same to the last bit on any number of threads, and
/// only one chunk is in memory at a time.
///
/// If it is stopped, the current chunk is dropped, and the number returned is less than the last day requested. Days 1
/// to 300 followed by days 301 to 400 are the same as days 1 to 400.
///
/// # Errors
///
/// The first error of `each_day`.
pub fn replicate<E>(
    scenario: &Scenario,
    seed: u64,
    days: RangeInclusive<u32>,
    control: Control<'_>,
    mut each_day: impl FnMut(&DayOutcomes) -> Result<(), E>,
) -> Result<u32, E> {
    let runner = Runner { seed, control };
    let (mut done, last) = (days.start().saturating_sub(1), *days.end());
    while done < last {
        let until = done.saturating_add(CHUNK_DAYS).min(last);
        let chunk: Option<Vec<DayOutcomes>> = (done + 1..=until)
            .into_par_iter()
            .map(|number| fish_day(scenario, number, runner))
            .collect();
        let Some(chunk) = chunk else { break };
        chunk.iter().try_for_each(&mut each_day)?;
        done = until;
    }
    Ok(done)
}

/// Fishes one day with every plan. `None` if the study was stopped.
fn fish_day(scenario: &Scenario, number: u32, runner: Runner<'_>) -> Option<DayOutcomes> {
    let day = runner.draw(scenario, number)?;
    let outcomes = runner.fish_plans(scenario, &day)?;
    let uncertain_inputs = day.uncertain_inputs(scenario);
    Some(DayOutcomes { number, conditions: day.conditions, uncertain_inputs, outcomes })
}
