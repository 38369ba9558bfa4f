//! Explained variance: how much of a value's variance comes from inputs that are drawn for every day.

use crate::numerics::{normal_cumulative, normal_density};
use crate::stats::describe::normal_scores;
use crate::stats::inference::{Interval, Proportion, t_quantile};

/// Variance explained by a set of inputs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ExplainedVariance {
    /// Share of the total variance. The estimate is unbiased, so it can be slightly negative.
    pub share: f64,
    /// Its standard error.
    pub se: f64,
    /// Total variance, in the square of the value's unit.
    pub variance: f64,
}

impl ExplainedVariance {
    /// The share with its interval, both limited to 0 to 1.
    pub fn limited_share(&self, level: f64) -> Proportion {
        let z = t_quantile(level, u64::MAX);
        let limited = |share: f64| share.clamp(0.0, 1.0);
        Proportion {
            estimate: limited(self.share),
            interval: Interval {
                low: limited(self.share - z * self.se),
                high: limited(self.share + z * self.se),
            },
        }
    }

    /// Mean of a normal distribution about the estimate, truncated below zero.
    fn truncated_mean_share(&self) -> f64 {
        let score = self.share / self.se;
        let kept = normal_cumulative(score);
        if kept > 0.0 { self.share + self.se * normal_density(score) / kept } else { 0.0 }
    }

    /// Probability that the values' mean, given the inputs, is above zero: Φ(μ/σ). σ² is the variance that the inputs
    /// explain.
    ///
    /// `mean` is the mean of the values and `se` its standard error. σ² is the mean of its distribution truncated below
    /// zero, so that a small sample does not give false certainty. The interval combines the ends of two intervals, for
    /// μ and for σ, each with half the error.
    ///
    /// - **Holds for** means with a nearly normal distribution over the inputs, such as sums of many small effects.
    pub fn probability_above_zero(&self, mean: f64, se: f64, level: f64) -> Proportion {
        let single_level = 0.5 + 0.5 * level;
        let z = t_quantile(single_level, u64::MAX);
        let explained = self.limited_share(single_level);
        let probability = |mean: f64, share: f64| match mean / (self.variance * share).sqrt() {
            score if score.is_nan() => 0.5,
            score => normal_cumulative(score),
        };
        let corners = [mean - z * se, mean + z * se].map(|mean| {
            [explained.interval.low, explained.interval.high].map(|share| probability(mean, share))
        });
        let corners = corners.as_flattened().iter().copied();
        Proportion {
            estimate: probability(mean, self.truncated_mean_share()),
            interval: Interval {
                low: corners.clone().fold(1.0, f64::min),
                high: corners.fold(0.0, f64::max),
            },
        }
    }
}

/// Inputs drawn for every day, prepared for [`InputScores::explained_variance`] with any values of the same days.
///
/// Each input is turned into normal scores z with two orthonormal functions, z and (z² − 1)/√2. They capture linear
/// and quadratic dependence.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct InputScores {
    /// Values of each function, day by day.
    functions: Vec<Vec<f64>>,
}

impl InputScores {
    /// Prepares the inputs: one column for each input, with one number a day. The inputs must be independent of each other.
    pub fn from_columns(columns: &[Vec<f32>]) -> Self {
        let both_functions = |column: &Vec<f32>| {
            let scores = normal_scores(column);
            let squares = scores.iter().map(|z| z * z).collect();
            [scores, squares]
        };
        Self {
            functions: columns.iter().flat_map(both_functions).filter_map(standardised).collect(),
        }
    }

    /// Share of the variance of `values` that the inputs explain. `None` for fewer than twenty values, without inputs,
    /// or if the values do not vary.
    ///
    /// Values beyond the number of inputs' days are ignored.
    ///
    /// f is one of the q functions, y the values minus their mean. Leaving out each value's product with itself makes
    /// the estimate unbiased:
    ///
    /// σ̂² = Σ_f ((Σᵢ yᵢ fᵢ)² − Σᵢ (yᵢ fᵢ)²) / (n (n − 1)),  se² ≈ s²(2 q s² / n² + 4 σ̂² / n)
    ///
    /// - **Holds for** the effects of single inputs up to second order. Interactions and higher orders count as
    ///   unexplained.
    /// - **Source** Sobol' 1993 for the decomposition; the estimate is the second-order U-statistic (Hoeffding 1948).
    /// - **Checked by** V-62.
    pub fn explained_variance(
        &self,
        values: impl IntoIterator<Item = f64>,
    ) -> Option<ExplainedVariance> {
        const MIN_VALUES: usize = 20;
        let n = self.functions.first()?.len();
        let mut deviations: Vec<f64> = values.into_iter().take(n).collect();
        if n < MIN_VALUES || deviations.len() < n {
            return None;
        }
        let days = n as f64;
        let mean = deviations.iter().sum::<f64>() / days;
        deviations.iter_mut().for_each(|y| *y -= mean);
        let variance = deviations.iter().map(|y| y * y).sum::<f64>() / (days - 1.0);
        if variance <= 0.0 {
            return None;
        }
        let mut explained = 0.0;
        for function in &self.functions {
            let (mut sum, mut squares) = (0.0, 0.0);
            for (y, f) in deviations.iter().zip(function) {
                sum += y * f;
                squares += (y * f) * (y * f);
            }
            explained += (sum * sum - squares) / (days * (days - 1.0));
        }
        let share = explained / variance;
        let noise = 2.0 * self.functions.len() as f64 / (days * days);
        let se = (noise + 4.0 * share.max(0.0) / days).sqrt();
        Some(ExplainedVariance { share, se, variance })
    }
}

/// The numbers scaled to mean zero and mean square one. `None` if they do not vary.
fn standardised(mut numbers: Vec<f64>) -> Option<Vec<f64>> {
    let n = numbers.len() as f64;
    let mean = numbers.iter().sum::<f64>() / n;
    let mean_square = numbers.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / n;
    if mean_square < 1e-9 {
        return None;
    }
    let scale = mean_square.sqrt().recip();
    numbers.iter_mut().for_each(|x| *x = (*x - mean) * scale);
    Some(numbers)
}
