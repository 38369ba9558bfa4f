//! The advice.

use schemars::JsonSchema;
use serde::Serialize;

use super::ways::WayKind;
use crate::study::stamp::Stamp;

/// How the rest of the session was foretold.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ForecastMethod {
    /// From simulated sessions that went as yours.
    SimulatedSessions,
    /// From your own bites so far alone, since no simulated session went as yours.
    OwnRate,
}

/// What one way to go on is worth.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WayForecast {
    /// What is done differently.
    pub way: WayKind,
    /// Expected weight at the end [kg].
    pub final_kg: f64,
    /// One case in ten ends with less than this [kg].
    pub low80_kg: f64,
    /// One case in ten ends with more than this [kg].
    pub high80_kg: f64,
    /// Chance of the scenario's target, if it has one.
    pub target_chance: Option<f64>,
    /// Chance of one of the first places of the scenario's section, if it has one.
    pub frame_chance: Option<f64>,
    /// Expected difference to the plan [kg]; zero for the plan itself.
    pub ahead_of_plan_kg: f64,
    /// Standard error of that difference [kg].
    pub ahead_se_kg: f64,
}

/// What would change the advice.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Turn {
    /// If no fish is landed for this long [s].
    pub without_fish_s: f64,
    /// This way becomes the better one.
    pub way: WayKind,
    /// By this much, from now on [kg].
    pub ahead_kg: f64,
}

/// The advice.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct NowResult {
    /// Name and version of the format.
    pub format: &'static str,
    /// Origin.
    pub stamp: Stamp,
    /// The plan.
    pub plan: String,
    /// Number of rules of the plan; going on as planned, they take in what happens from now on.
    pub rules: u32,
    /// The session of the log.
    pub session: String,
    /// Time since the start [s].
    pub at_s: f64,
    /// Time that is left [s].
    pub left_s: f64,
    /// Casts so far.
    pub casts: u32,
    /// Bites so far.
    pub bites: u32,
    /// Fish landed so far. `None` if the log does not say it of any bite.
    pub landed: Option<u32>,
    /// Weight so far, without fish of which the log does not say that they were landed [kg].
    pub weight_kg: f64,
    /// How the rest was foretold.
    pub method: ForecastMethod,
    /// Sessions that were simulated up to now.
    pub simulated: u32,
    /// To how many equally likely ones those that went as yours amount [count].
    pub effective: f64,
    /// The ways to go on; the plan first, then by expected weight.
    pub ways: Vec<WayForecast>,
    /// The way that is clearly better than the plan. `None` if there is none.
    pub better: Option<WayKind>,
    /// What would change the advice.
    pub turn: Option<Turn>,
}

impl NowResult {
    /// Name and version of the format.
    pub const FORMAT: &'static str = "shoalwise/now/1";
}
