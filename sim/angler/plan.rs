//! A plan: phases on the clock, and rules that change them.

use super::phase::Phase;
use super::rules::Rules;

/// One way to fish the session.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The name under which it stands in the scenario.
    pub name: String,
    /// Phases in order of time; they do not overlap. Between phases the rod is out of the water.
    pub phases: Vec<Phase>,
    /// Bait that may be used at most [kg], if there is a limit.
    pub bait_limit_kg: Option<f64>,
    /// What is done otherwise when something is perceived.
    pub rules: Rules,
}
