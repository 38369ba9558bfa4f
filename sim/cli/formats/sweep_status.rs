//! The document of `sweep --status`.

use schemars::JsonSchema;
use serde::Serialize;

use crate::study::Stamp;

/// How far a sweep is.
#[derive(Debug, Serialize, JsonSchema)]
pub(in crate::cli) struct SweepStatusDocument<'a> {
    /// Name and version of the format.
    pub(in crate::cli) format: &'static str,
    /// Path of the store.
    pub(in crate::cli) store: String,
    /// Size of the store [bytes].
    pub(in crate::cli) store_bytes: u64,
    /// Version, seed and scenario.
    pub(in crate::cli) stamp: &'a Stamp,
    /// Number of sessions of the whole sweep.
    pub(in crate::cli) sessions: u64,
    /// Number of sessions fished so far.
    pub(in crate::cli) sessions_done: u64,
    /// Whether the sweep is being fished now.
    pub(in crate::cli) running: bool,
    /// Speed of the latest run [1/s]. `None` before the first batch.
    pub(in crate::cli) sessions_per_s: Option<f64>,
    /// Time until the sweep is done [s]. `None` before the first batch.
    pub(in crate::cli) left_s: Option<f64>,
    /// The heaviest plan and point so far. `None` before the first batch.
    pub(in crate::cli) best: Option<BestPoint<'a>>,
}

/// A plan at a point of a sweep.
#[derive(Debug, Serialize, JsonSchema)]
pub(in crate::cli) struct BestPoint<'a> {
    /// Name of the plan.
    pub(in crate::cli) plan: &'a str,
    /// Values of the point, as written, in the order of the keys.
    pub(in crate::cli) values: &'a [String],
    /// Mean weight of the plan at the point.
    pub(in crate::cli) weight_kg: MeanAndError,
    /// Number of days fished at the point.
    pub(in crate::cli) days: u64,
}

/// A mean with its standard error.
#[derive(Debug, Serialize, JsonSchema)]
pub(in crate::cli) struct MeanAndError {
    /// Mean over days.
    pub(in crate::cli) mean: f64,
    /// Standard error of the mean.
    pub(in crate::cli) se: f64,
}

impl SweepStatusDocument<'_> {
    /// Name and version of the format.
    pub(in crate::cli) const FORMAT: &'static str = "shoalwise/sweep-status/1";
}
