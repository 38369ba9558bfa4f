//! Fishes one plan on one day.

use super::day::Day;
use super::event::Event;
use super::outcome::Outcome;
use crate::angler::Plan;
use crate::engine::{Nobody, Watch};
use crate::scenario::Scenario;

/// Fishes one plan on one day.
#[must_use]
pub fn fish_session(scenario: &Scenario, plan: &Plan, day: &Day) -> Outcome {
    watch_session(scenario, plan, day, &mut Nobody)
}

/// Fishes one plan on one day while somebody watches.
pub fn watch_session<W: Watch<Event>>(
    scenario: &Scenario,
    plan: &Plan,
    day: &Day,
    watch: &mut W,
) -> Outcome {
    let _ = (scenario, plan, day, watch);
    Outcome::default()
}
