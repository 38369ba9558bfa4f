//! A plan: phases on the clock, and rules that change them.

use super::phase::Phase;
use super::rules::Rules;
use crate::engine::indexed_by;

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
