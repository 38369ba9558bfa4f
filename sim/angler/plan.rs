//! A plan: phases on the clock, and rules that change them.

use super::phase::Phase;
use super::rules::Rules;
use crate::engine::indexed_by;
use crate::water::LineId;

/// One way to fish the session.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// Name in the scenario.
    pub name: String,
    /// Phases in order of time, without overlap. Between phases the rod is out of the water.
    pub phases: Vec<Phase>,
    /// Largest amount of bait that may be used [kg]; `None` is no limit.
    pub bait_limit_kg: Option<f64>,
    /// Rules that change the plan when something is perceived.
    pub rules: Rules,
}

impl Plan {
    /// Whether the plan may ever bring bait to a line, by its phases or by a rule.
    #[must_use]
    pub fn uses(&self, line: LineId) -> bool {
        let in_phases = self.phases.iter().any(|phase| {
            phase.tackle.line == line || phase.loose_feed.iter().any(|feed| feed.line == line)
        });
        let mut changes = self.rules.list.iter().map(|rule| &rule.change);
        in_phases
            || changes.any(|change| {
                change.tackle.line == Some(line)
                    || change.feeds.iter().any(|feed| feed.line == line)
            })
    }
}

/// A plan, by its index among those of the scenario.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PlanId(pub usize);

impl PlanId {
    /// Every plan of a scenario with `count`.
    pub fn all(count: usize) -> impl Iterator<Item = Self> {
        (0..count).map(Self)
    }
}

indexed_by!(PlanId: Plan);
