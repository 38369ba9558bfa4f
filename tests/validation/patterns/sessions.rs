//! Whole sessions for the patterns: waters, plans and days, and counts from their events.

use rayon::prelude::*;
use sim::engine::{EventLog, Time};
use sim::fish::FishId;
use sim::scenario::Scenario;
use sim::session::{Day, Event, LeaveReason, Outcome, observe_session, run_session};
use sim::water::LineId;

use crate::demo::scenario;
use crate::evidence::{Z_BOUND, mean, standard_error};

/// Seed of all days of these patterns.
const SEED: u64 = 2025;

/// Two equal lines, and a rod that does not disturb them.
pub(super) fn two_lines(sets: &[&str]) -> Scenario {
    scenario("tests/validation/patterns/two-lines.toml", sets)
}

/// The results of `each` for days 1 to `days`, in order.
pub(crate) fn days<T: Send>(
    scenario: &Scenario,
    days: u32,
    each: impl Fn(&Day) -> T + Sync,
) -> Vec<T> {
    (1..=days).into_par_iter().map(|number| each(&Day::draw(scenario, SEED, number))).collect()
}

/// One plan on many days.
pub(crate) fn fished(scenario: &Scenario, plan: &str, many: u32) -> Vec<Outcome> {
    let plan = scenario.plans.iter().find(|known| known.name == plan).expect("a plan of the file");
    days(scenario, many, |day| run_session(scenario, plan, day))
}

/// Weights of one plan on many days [kg].
pub(super) fn weights_kg(scenario: &Scenario, plan: &str, many: u32) -> Vec<f64> {
    let outcomes = fished(scenario, plan, many);
    outcomes.iter().map(|outcome| outcome.weight_g as f64 / 1000.0).collect()
}

/// Standard score of the mean of paired differences a − b.
pub(super) fn z_of(a: &[f64], b: &[f64]) -> f64 {
    let differences: Vec<f64> = a.iter().zip(b).map(|(a, b)| a - b).collect();
    mean(&differences) / standard_error(&differences)
}

/// Fails unless a is above b on the same days by more than chance allows; returns the standard score.
#[track_caller]
pub(super) fn ahead(what: &str, a: &[f64], b: &[f64]) -> f64 {
    let z = z_of(a, b);
    println!("{what}: {:.3} against {:.3}, z = {z:+.1}", mean(a), mean(b));
    assert!(z > Z_BOUND, "{what}: {} against {}, z = {z:+.1}", mean(a), mean(b));
    z
}

/// One visit of a fish to a line.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stay {
    pub(crate) fish: FishId,
    pub(super) line: LineId,
    pub(super) from_s: f64,
    pub(super) until_s: f64,
    pub(super) why: Option<LeaveReason>,
}

/// Events of one plan on one day.
pub(crate) fn watched(
    scenario: &Scenario,
    plan: usize,
    day: &Day,
) -> (Vec<(Time, Event)>, Outcome) {
    let mut record = EventLog::default();
    let outcome = observe_session(scenario, &scenario.plans[plan], day, &mut record);
    (record.events, outcome)
}

/// Every stay of a fish at a line, in the order in which they ended; fish still there stay to the end.
pub(crate) fn stays(events: &[(Time, Event)], fish: usize) -> Vec<Stay> {
    let (mut turned_to, mut since) = (vec![LineId(0); fish], vec![None; fish]);
    let mut stays = Vec::new();
    for &(at, event) in events {
        match event {
            Event::FishNotices { fish, line } => turned_to[fish.0] = line,
            Event::FishArrives { fish, .. } => since[fish.0] = Some(at.seconds()),
            Event::FishLeaves { fish, line, why } => {
                let from_s = since[fish.0].take().expect("it arrived before it left");
                stays.push(Stay { fish, line, from_s, until_s: at.seconds(), why: Some(why) });
            }
            _ => {}
        }
    }
    let end_s = events.last().map_or(0.0, |(at, _)| at.seconds());
    for (fish, since) in since.iter().enumerate() {
        if let Some(from_s) = *since {
            let line = turned_to[fish];
            let fish = FishId(fish);
            stays.push(Stay { fish, line, from_s, until_s: end_s, why: None });
        }
    }
    stays
}

/// Mean number of fish on a line in a part of the session.
pub(super) fn presence(stays: &[Stay], line: LineId, from_s: f64, until_s: f64) -> f64 {
    let seconds: f64 = stays
        .iter()
        .filter(|stay| stay.line == line)
        .map(|stay| (stay.until_s.min(until_s) - stay.from_s.max(from_s)).max(0.0))
        .sum();
    seconds / (until_s - from_s)
}
