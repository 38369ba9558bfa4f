//! A value that may differ from day to day.

use serde::{Deserialize, Serialize};
use statrs::distribution::{ContinuousCDF, Normal};

use crate::engine::Dice;

/// How one value differs from day to day; units are those of the value.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub enum Spread {
    /// The same every day.
    Fixed(f64),
    /// Uniform between two ends.
    Between {
        /// Lowest value.
        low: f64,
        /// Highest value.
        high: f64,
    },
    /// Lognormal with a mean and a coefficient of variation (standard deviation over mean).
    About {
        /// Mean.
        mean: f64,
        /// Standard deviation divided by the mean.
        cv: f64,
    },
}

impl Spread {
    /// One day's value.
    ///
    /// Always uses exactly one number, so that changing one spread leaves the others of the day as they were.
    pub fn draw(&self, dice: &mut Dice) -> f64 {
        self.quantile(dice.uniform())
    }

    /// The value below which it stays on a share `u` of days.
    #[must_use]
    pub fn quantile(&self, u: f64) -> f64 {
        match *self {
            Self::Fixed(value) => value,
            Self::Between { low, high } => low + (high - low) * u,
            Self::About { mean, cv } => {
                let (median, sd_ln) = lognormal_of(mean, cv);
                median * (sd_ln * normal_score(u)).exp()
            }
        }
    }

    /// The value with a standard normal score: as far up the spread as the score is up the normal law.
    #[must_use]
    pub fn at_score(&self, score: f64) -> f64 {
        match *self {
            Self::Fixed(value) => value,
            Self::Between { low, high } => low + (high - low) * Normal::standard().cdf(score),
            Self::About { mean, cv } => {
                let (median, sd_ln) = lognormal_of(mean, cv);
                median * (sd_ln * score).exp()
            }
        }
    }

    /// The score of a value, infinite beyond the ends; nought for the value that is the same every day.
    #[must_use]
    pub fn score_of(&self, value: f64) -> f64 {
        match *self {
            Self::Fixed(fixed) if value < fixed => f64::NEG_INFINITY,
            Self::Fixed(fixed) if value > fixed => f64::INFINITY,
            Self::Fixed(_) => 0.0,
            Self::Between { low, high } => {
                Normal::standard().inverse_cdf(((value - low) / (high - low)).clamp(0.0, 1.0))
            }
            Self::About { .. } if value <= 0.0 => f64::NEG_INFINITY,
            Self::About { mean, cv } => {
                let (median, sd_ln) = lognormal_of(mean, cv);
                (value / median).ln() / sd_ln
            }
        }
    }

    /// The mean over days.
    #[must_use]
    pub fn mean(&self) -> f64 {
        match *self {
            Self::Fixed(value) => value,
            Self::Between { low, high } => 0.5 * (low + high),
            Self::About { mean, .. } => mean,
        }
    }
}

/// The standard normal score below which a share `u` of it lies.
pub(super) fn normal_score(u: f64) -> f64 {
    // The ends would be infinite; no stream of ours comes this close to them in a lifetime of days.
    Normal::standard().inverse_cdf(u.clamp(1e-12, 1.0 - 1e-12))
}

/// Median and spread of the logarithm of a lognormal law with this mean and coefficient of variation.
///
/// σ² = ln(1 + cv²), median = mean · exp(−σ²/2).
fn lognormal_of(mean: f64, cv: f64) -> (f64, f64) {
    let variance_ln = (1.0 + cv * cv).ln();
    (mean * (-0.5 * variance_ln).exp(), variance_ln.sqrt())
}
