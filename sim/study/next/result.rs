//! What to try next.

use schemars::JsonSchema;
use serde::Serialize;

use super::practice::Practice;

/// What one practice would teach.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PracticeWorth {
    /// The practice.
    pub practice: Practice,
    /// Whether it is the favourite plan, fished for the same time.
    pub is_favourite: bool,
    /// Share of the doubt about the lead (its variance between waters) that it settles.
    pub settled_share: f64,
    /// Standard error of that share [share].
    pub settled_se: f64,
    /// Chance of choosing the worse plan after it.
    pub worse_chance: f64,
    /// Whether it teaches as much as the best practice, as far as can be seen.
    pub is_among_best: bool,
}

/// What to try next.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct NextResult {
    /// The plan that looks best.
    pub favourite: String,
    /// The plan that comes next.
    pub rival: String,
    /// Waters that are still possible, each fished by both plans.
    pub waters: u32,
    /// Length of a practice [s].
    pub practice_s: f64,
    /// Mean lead of the favourite over these waters [kg].
    pub lead_kg: f64,
    /// How much its mean lead differs between waters (standard deviation) [kg].
    pub lead_sd_kg: f64,
    /// Chance that the favourite is the worse plan, as things stand.
    pub worse_chance: f64,
    /// The practices, the most telling first.
    pub practices: Vec<PracticeWorth>,
}
