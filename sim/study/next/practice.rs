//! Practice sessions that one can afford.

use schemars::JsonSchema;
use serde::Serialize;

use crate::angler::{Phase, Plan, Rules};
use crate::scenario::Scenario;
use crate::water::LineId;

/// Largest number of lines that are tried.
const MAX_LINES: usize = 3;

/// A practice session.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Practice {
    /// The lines, fished one after the other for the same time each.
    pub lines: Vec<String>,
    /// Recast interval [s].
    pub recast_s: f64,
    /// What is fished.
    #[serde(skip)]
    pub plan: Plan,
}

/// Every practice of a length [s] with one of these recast intervals [s]: on each line, and on each two lines one after
/// the other. Tackle and bait are those of the plan with number `favourite`.
#[must_use]
pub fn practices(
    scenario: &Scenario,
    favourite: usize,
    length_s: f64,
    intervals_s: &[f64],
) -> Vec<Practice> {
    let lines: Vec<LineId> = LineId::all(scenario.lines.len()).take(MAX_LINES).collect();
    let mut choices: Vec<Vec<LineId>> = lines.iter().map(|&line| vec![line]).collect();
    for (place, &first) in lines.iter().enumerate() {
        choices.extend(lines[place + 1..].iter().map(|&second| vec![first, second]));
    }
    let mut practices = Vec::new();
    for choice in &choices {
        for &recast_s in intervals_s {
            practices.extend(practice(scenario, favourite, choice, length_s, recast_s));
        }
    }
    practices
}

/// `None` if no plan says how to fish.
fn practice(
    scenario: &Scenario,
    favourite: usize,
    lines: &[LineId],
    length_s: f64,
    recast_s: f64,
) -> Option<Practice> {
    let share_s = length_s / lines.len() as f64;
    let favourite = scenario.plans.get(favourite)?;
    let mut phases = Vec::with_capacity(lines.len());
    for (number, &line) in lines.iter().enumerate() {
        let all = scenario.plans.iter().flat_map(|plan| &plan.phases);
        let mut on_line =
            favourite.phases.iter().chain(all).filter(|phase| phase.tackle.line == line);
        let pattern = on_line.next().or(favourite.phases.first())?;
        let mut tackle = pattern.tackle;
        tackle.line = line;
        tackle.recast_s = recast_s;
        phases.push(Phase {
            from_s: number as f64 * share_s,
            until_s: (number + 1) as f64 * share_s,
            tackle,
            loose_feed: Vec::new(),
        });
    }
    let name = "practice".to_owned();
    let plan = Plan { name, phases, bait_limit_kg: None, rules: Rules::default() };
    let lines = lines.iter().map(|&line| scenario.lines[line].name.clone()).collect();
    Some(Practice { lines, recast_s, plan })
}
