//! Fishes one plan on one day.

use super::day::Day;
use super::event::Event;
use super::outcome::Outcome;
use super::waiting_time::{WaitingTimeModel, WaitingTimes};
use super::world::World;
use crate::angler::Plan;
use crate::engine::{NullObserver, Observer, run};
use crate::scenario::Scenario;

/// Fishes one plan on one day.
// `benches/instructions.sh` counts inside this function, by its name.
#[inline(never)]
#[must_use]
pub fn run_session(scenario: &Scenario, plan: &Plan, day: &Day) -> Outcome {
    observe_session(scenario, plan, day, &mut NullObserver)
}

/// Fishes one plan on one day and shows every event to an observer.
pub fn observe_session<W: Observer<Event>>(
    scenario: &Scenario,
    plan: &Plan,
    day: &Day,
    observer: &mut W,
) -> Outcome {
    run_to_end(World::new(scenario, plan, day, observer))
}

/// Fishes one plan on one day in a stationary swim: bites come after given waiting times, whatever fish and bait do.
///
/// Angler, rod, hooking, playing and weighing work as in every session. Fish neither roam nor feed; they are hooked in
/// the order of the stock. In this limit, waiting for bites is a renewal process with a known best wait.
///
/// - **Checked by** V-106 to V-108.
#[must_use]
pub fn run_with_waiting_times(
    scenario: &Scenario,
    plan: &Plan,
    day: &Day,
    model: &WaitingTimeModel<'_>,
) -> Outcome {
    let mut observer = NullObserver;
    let mut world = World::new(scenario, plan, day, &mut observer);
    world.waiting_times = Some(WaitingTimes::new(model, day));
    run_to_end(world)
}

/// Runs a session to its end.
fn run_to_end<W: Observer<Event>>(mut world: World<'_, W>) -> Outcome {
    world.start();
    let end = world.end;
    let handled = run(&mut world, end);
    let mut outcome = world.outcome;
    // The angler's looks change nothing in the water.
    outcome.swim.events = handled - world.perception.looks;
    outcome.fired = world.perception.rules.fired().to_vec();
    outcome
}
