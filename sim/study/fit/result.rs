//! What the simulator learnt from a log.

use schemars::JsonSchema;
use serde::Serialize;

use crate::study::stamp::Stamp;

/// An unknown that the log taught something of.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LearnedUnknown {
    /// Its dotted key.
    pub key: String,
    /// What it is.
    pub meaning: String,
    /// Unit of its values; empty for a ratio or a count.
    pub unit: String,
    /// Before the log: 5 %, 50 % and 95 % quantile [in unit].
    pub before: [f64; 3],
    /// 5 %, 50 % and 95 % quantile after the log [in unit].
    pub after: [f64; 3],
    /// Spread after the log over that before, on the scale on which it was normal before [ratio].
    pub spread_ratio: f64,
    /// 5 %, 50 % and 95 % quantile after the log, as standard normal scores of before [standard deviations].
    pub after_scores: [f64; 3],
}

/// A figure of the log that was not fitted, and the same of simulated logs after the fit.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FitCheck {
    /// What it is, with its unit.
    pub name: String,
    /// Value in the log [as named].
    pub observed: f64,
    /// In nine of ten simulated logs it is from here [as named].
    pub low: f64,
    /// In nine of ten simulated logs it is up to here [as named].
    pub high: f64,
    /// Whether the log's figure is within.
    pub is_inside: bool,
}

/// What a plan is worth before and after the log.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PlanBeforeAfter {
    /// The plan.
    pub plan: String,
    /// Mean weight before [kg].
    pub before_kg: f64,
    /// Its standard error [kg].
    pub before_se_kg: Option<f64>,
    /// Share of days on which it weighed most, before.
    pub before_best_share: f64,
    /// Mean weight after [kg].
    pub after_kg: f64,
    /// Its standard error [kg].
    pub after_se_kg: Option<f64>,
    /// Share of days on which it weighed most, after.
    pub after_best_share: f64,
}

/// The result of fitting the simulator to a log.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FitResult {
    /// Name and version of the format.
    pub format: &'static str,
    /// Origin.
    pub stamp: Stamp,
    /// The log.
    pub log: String,
    /// SHA-256 of its text.
    pub log_sha256: String,
    /// Sessions in the log.
    pub sessions: u32,
    /// Logs that were simulated.
    pub simulated_logs: u32,
    /// Simulated logs that were near enough to be used.
    pub accepted_logs: u32,
    /// Unknowns that could have been taught.
    pub unknowns: u32,
    /// Share of simulated logs that are at least as unusual as yours.
    pub unusual_share: f64,
    /// Unknowns that the log taught something of, those it taught most first.
    pub learned: Vec<LearnedUnknown>,
    /// Figures that were not fitted.
    pub checks: Vec<FitCheck>,
    /// Days on which each plan was fished before and after; zero if none.
    pub days: u32,
    /// The plans, in the order of the scenario.
    pub plans: Vec<PlanBeforeAfter>,
}

impl FitResult {
    /// Name and version of the format.
    pub const FORMAT: &'static str = "shoalwise/fit/1";
}
