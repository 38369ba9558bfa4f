//! Practice sessions that one can afford.

use schemars::JsonSchema;
use serde::Serialize;

use crate::angler::{Phase, Plan, Rules};
use crate::scenario::Scenario;
use crate::water::LineId;

/// Largest number of lines that are tried.
const MAX_LINES: usize = 3;

/// How a practice session is chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PracticeKind {
    /// One line, or two one after the other, with one interval.
    Lines,
    /// The plan that looks best.
    Favourite,
    /// The two best plans, half of the time each.
    BothPlans,
}

/// A practice session.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Practice {
    /// How it is chosen.
    pub kind: PracticeKind,
    /// The lines, fished one after the other for the same time each.
    pub lines: Vec<String>,
    /// Recast interval [s]; of two plans, that of the favourite.
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

/// One plan as far as a practice goes, or two plans one after the other for half the time each.
pub(super) fn practice_of_plans(
    scenario: &Scenario,
    plans: &[usize],
    kind: PracticeKind,
    length_s: f64,
) -> Option<Practice> {
    let share_s = length_s / plans.len() as f64;
    let mut phases: Vec<Phase> = Vec::new();
    for (number, &plan) in (0_u32..).zip(plans) {
        let from_s = f64::from(number) * share_s;
        // Each plan as from its own start.
        phases.extend(
            scenario.plans.get(plan)?.phases.iter().filter(|phase| phase.from_s < share_s).map(
                |phase| Phase {
                    from_s: from_s + phase.from_s,
                    until_s: from_s + phase.until_s.min(share_s),
                    ..phase.clone()
                },
            ),
        );
    }
    let first = scenario.plans.get(*plans.first()?)?;
    let mut lines: Vec<String> = Vec::new();
    for phase in &phases {
        let name = &scenario.lines[phase.tackle.line].name;
        if lines.last() != Some(name) {
            lines.push(name.clone());
        }
    }
    let recast_s = first.phases.first().map_or(0.0, |phase| phase.tackle.recast_s);
    // Rules belong to one plan as a whole.
    let rules = if plans.len() == 1 { first.rules.clone() } else { Rules::default() };
    let bait_limit_kg = if plans.len() == 1 { first.bait_limit_kg } else { None };
    let plan = Plan { name: "practice".to_owned(), phases, bait_limit_kg, rules };
    Some(Practice { kind, lines, recast_s, plan })
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
    Some(Practice { kind: PracticeKind::Lines, lines, recast_s, plan })
}
