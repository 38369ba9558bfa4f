//! The result of a sensitivity analysis, in the shape in which it is written as JSON.

use schemars::JsonSchema;
use serde::Serialize;

use super::profile::ProfilePoint;
use super::reversal::ReversalInterval;
use super::structure::StructureDoubt;
use super::variance::VarianceComponentsKg2;
use crate::study::estimate::{Estimate, MeanEstimate};
use crate::study::stamp::Stamp;

/// Screening of one uncertain input: the effect on the paired difference of moving it from the lower to the upper
/// eighth of its prior, at random values of the other inputs.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ScreenedInput {
    /// Dotted key.
    pub key: String,
    /// Description.
    #[serde(rename = "says")]
    pub description: String,
    /// Unit of its values.
    pub unit: String,
    /// Value below which 2.5 % of the prior lies [in unit].
    pub low: f64,
    /// Value above which 2.5 % of the prior lies [in unit].
    pub high: f64,
    /// Mean change of the difference (Morris's μ) [kg].
    pub mean_kg: f64,
    /// Standard error of the mean change [kg].
    pub mean_se_kg: f64,
    /// Mean absolute change (Morris's μ*), including replicate noise [kg].
    #[serde(rename = "mean_size_kg")]
    pub mean_absolute_kg: f64,
    /// Standard deviation of the change (Morris's σ), including replicate noise [kg].
    pub spread_kg: f64,
    /// Root mean square of the change without replicate noise [kg].
    #[serde(rename = "beyond_luck_kg")]
    pub effect_kg: f64,
    /// Root mean square that replicate noise alone would give [kg].
    #[serde(rename = "luck_kg")]
    pub noise_kg: f64,
}

/// One of the most influential inputs.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct InfluentialInput {
    /// Dotted key.
    pub key: String,
    /// Description.
    #[serde(rename = "says")]
    pub description: String,
    /// Unit of its values.
    pub unit: String,
    /// First-order Sobol' index: share of the variance of the difference that this input explains alone, among the most
    /// influential inputs. `None` if all variance is replicate noise [share].
    pub first: Option<f64>,
    /// Total Sobol' index: share that this input explains alone or together with others [share].
    pub total: Option<f64>,
    /// Lower end of the 95 % interval for the total index [share].
    pub total_low95: Option<f64>,
    /// Upper end of the interval [share].
    pub total_high95: Option<f64>,
    /// Profile of the difference along the input, in order of value.
    #[serde(rename = "line")]
    pub profile: Vec<ProfilePoint>,
    /// Intervals of the input in which the other plan is better.
    #[serde(rename = "flips")]
    pub reversals: Vec<ReversalInterval>,
}

/// Variance components of the weights of two plans and of their difference.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PairVariances {
    /// Weight of the better plan.
    pub a: VarianceComponentsKg2,
    /// Weight of the other plan.
    pub b: VarianceComponentsKg2,
    /// Paired difference.
    pub difference: VarianceComponentsKg2,
}

/// The result of a sensitivity analysis: how far the uncertain inputs put a verdict in doubt.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[non_exhaustive]
pub struct SensitivityReport {
    /// `shoalwise/doubt/1`.
    pub format: &'static str,
    /// Where the result came from.
    pub stamp: Stamp,
    /// Number of days on which the verdict rests.
    pub days: u32,
    /// Number of days at each point of a profile.
    #[serde(rename = "line_days")]
    pub profile_days: u32,
    /// The plan with the higher mean.
    pub a: String,
    /// The plan that could be better instead.
    pub b: String,
    /// Weight of a minus weight of b.
    #[serde(with = "MeanEstimate")]
    pub difference_kg: Estimate,
    /// Standard deviation of the mean difference over the most influential inputs, without replicate noise [kg]. `None`
    /// if all variance is replicate noise.
    #[serde(rename = "spread_over_few_kg")]
    pub input_sd_kg: Option<f64>,
    /// Standard deviation of one point of that design due to replicate noise [kg].
    #[serde(rename = "luck_of_a_point_kg")]
    pub noise_sd_kg: Option<f64>,
    /// All uncertain inputs, those with the largest effect first.
    pub screened: Vec<ScreenedInput>,
    /// The most influential inputs.
    #[serde(rename = "few")]
    pub influential: Vec<InfluentialInput>,
    /// The verdict without each mechanism of the model.
    pub structure: StructureDoubt,
    /// Variance components.
    pub variance: PairVariances,
}

impl SensitivityReport {
    /// Name and version of the format.
    pub const FORMAT: &'static str = "shoalwise/doubt/1";
}
