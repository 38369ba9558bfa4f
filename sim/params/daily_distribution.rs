//! The distribution of a value over days.

use serde::{Deserialize, Serialize};

use crate::engine::Dice;
use crate::numerics::{exp, ln, normal_cumulative, normal_quantile};

/// Distribution of a value over days, in the value's own unit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub enum DailyDistribution {
    /// The same every day.
    Fixed(f64),
    /// Uniform between two values.
    #[serde(rename = "Between")]
    Uniform {
        /// Lowest value.
        low: f64,
        /// Highest value.
        high: f64,
    },
    /// Lognormal, from the mean and the coefficient of variation.
    #[serde(rename = "About")]
    LogNormal {
        /// Mean.
        mean: f64,
        /// Standard deviation divided by the mean.
        cv: f64,
    },
}

impl DailyDistribution {
    /// Draws one day's value.
    ///
    /// It always uses exactly one random number. Changing one distribution therefore leaves the day's other values
    /// unchanged.
    pub fn draw(&self, dice: &mut Dice) -> f64 {
        self.quantile(dice.uniform())
    }

    /// Quantile `u`: the value is below it on a share `u` of days.
    #[must_use]
    pub fn quantile(&self, u: f64) -> f64 {
        match *self {
            Self::Fixed(value) => value,
            Self::Uniform { low, high } => low + (high - low) * u,
            Self::LogNormal { mean, cv } => {
                let (median, sd_ln) = median_and_sd_ln(mean, cv);
                median * exp(sd_ln * normal_score(u))
            }
        }
    }

    /// The value with a standard normal score: the same quantile as the score has in the standard normal.
    #[must_use]
    pub fn value_at_score(&self, score: f64) -> f64 {
        match *self {
            Self::Fixed(value) => value,
            Self::Uniform { low, high } => low + (high - low) * normal_cumulative(score),
            Self::LogNormal { mean, cv } => {
                let (median, sd_ln) = median_and_sd_ln(mean, cv);
                median * exp(sd_ln * score)
            }
        }
    }

    /// The standard normal score of a value: infinite beyond the ends, zero for a fixed value.
    #[must_use]
    pub fn score_of(&self, value: f64) -> f64 {
        match *self {
            Self::Fixed(fixed) if value < fixed => f64::NEG_INFINITY,
            Self::Fixed(fixed) if value > fixed => f64::INFINITY,
            Self::Fixed(_) => 0.0,
            Self::Uniform { low, high } => {
                normal_quantile(((value - low) / (high - low)).clamp(0.0, 1.0))
            }
            Self::LogNormal { .. } if value <= 0.0 => f64::NEG_INFINITY,
            Self::LogNormal { mean, cv } => {
                let (median, sd_ln) = median_and_sd_ln(mean, cv);
                ln(value / median) / sd_ln
            }
        }
    }

    /// Mean over days.
    #[must_use]
    pub fn mean(&self) -> f64 {
        match *self {
            Self::Fixed(value) => value,
            Self::Uniform { low, high } => 0.5 * (low + high),
            Self::LogNormal { mean, .. } => mean,
        }
    }
}

/// Quantile `u` of the standard normal.
pub(super) fn normal_score(u: f64) -> f64 {
    // At 0 and 1 the score would be infinite. No random stream comes this close to them in practice.
    normal_quantile(u.clamp(1e-12, 1.0 - 1e-12))
}

/// Median, and standard deviation of the logarithm, of a lognormal with this mean and coefficient of variation.
///
/// σ² = ln(1 + cv²), median = mean · exp(−σ²/2).
fn median_and_sd_ln(mean: f64, cv: f64) -> (f64, f64) {
    let variance_ln = ln(1.0 + cv * cv);
    (mean * exp(-0.5 * variance_ln), variance_ln.sqrt())
}
