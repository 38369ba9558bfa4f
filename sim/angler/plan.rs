//! A plan: phases on the clock, and rules that change them.

use super::phase::Phase;
use super::rules::Rules;

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
