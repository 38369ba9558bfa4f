//! Ways to go on from now.

use schemars::JsonSchema;
use serde::Serialize;

use crate::angler::{Phase, Plan, Rules};
use crate::scenario::Scenario;
use crate::water::LineId;

/// Largest number of other lines, and of other plans, that are tried.
const MAX_OTHERS: usize = 2;

/// What is done differently from now on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum WayKind {
    /// The plan, with its rules.
    AsPlanned,
    /// The plan, and the bait that is out is wound in now.
    RecastNow,
    /// Another line with the tackle of now, to the end.
    Line(String),
    /// Another plan of the scenario.
    Plan(String),
    /// The plan with half its recast intervals.
    RecastSooner,
    /// The plan with twice its recast intervals.
    RecastLater,
    /// The plan with twice its bait.
    FeedMore,
    /// The plan with half its bait.
    FeedLess,
}

/// A way to go on.
#[derive(Clone, Debug, PartialEq)]
pub struct WayToGoOn {
    /// What is done differently.
    pub kind: WayKind,
    /// What is fished from now on.
    pub plan: Plan,
    /// Whether a bait that is out is wound in now.
    pub winds_in_now: bool,
}

/// Every way to go on from a time of the session [s], the plan itself first.
#[must_use]
pub fn ways_to_go_on(
    scenario: &Scenario,
    plan: &Plan,
    at_s: f64,
    is_bait_out: bool,
) -> Vec<WayToGoOn> {
    let way = |kind: WayKind, plan: Plan| WayToGoOn { kind, plan, winds_in_now: false };
    let mut ways = vec![way(WayKind::AsPlanned, plan.clone())];
    if is_bait_out {
        ways.push(WayToGoOn { winds_in_now: true, ..way(WayKind::RecastNow, plan.clone()) });
    }
    let running = plan.phases.iter().rev().find(|phase| phase.from_s <= at_s);
    if let Some(running) = running.or(plan.phases.first()) {
        let others = LineId::all(scenario.lines.len()).filter(|line| *line != running.tackle.line);
        for line in others.take(MAX_OTHERS) {
            let name = scenario.lines[line].name.clone();
            ways.push(way(WayKind::Line(name), on_line(scenario, plan, running, line)));
        }
    }
    let others = scenario.plans.iter().filter(|other| other.name != plan.name);
    ways.extend(
        others.take(MAX_OTHERS).map(|other| way(WayKind::Plan(other.name.clone()), other.clone())),
    );
    let changed = |change: fn(&mut Phase)| {
        let mut changed = plan.clone();
        changed.phases.iter_mut().for_each(change);
        changed
    };
    ways.push(way(WayKind::RecastSooner, changed(|phase| phase.tackle.recast_s *= 0.5)));
    ways.push(way(WayKind::RecastLater, changed(|phase| phase.tackle.recast_s *= 2.0)));
    ways.push(way(WayKind::FeedMore, changed(|phase| feed(phase, 2.0))));
    ways.push(way(WayKind::FeedLess, changed(|phase| feed(phase, 0.5))));
    ways
}

/// The tackle and feed of a phase on another line to the end.
fn on_line(scenario: &Scenario, plan: &Plan, phase: &Phase, line: LineId) -> Plan {
    let mut phase = Phase { from_s: 0.0, until_s: scenario.session_s, ..phase.clone() };
    phase.tackle.line = line;
    Plan { phases: vec![phase], rules: Rules::default(), ..plan.clone() }
}

/// Changes the bait of a phase by a factor: what is thrown in by hand, or the loads if nothing is.
fn feed(phase: &mut Phase, factor: f64) {
    if phase.loose_feed.is_empty() {
        phase.tackle.load_kg *= factor;
    }
    phase.loose_feed.iter_mut().for_each(|feed| feed.amount_kg *= factor);
}
