//! How much of a value's variance goes with inputs that were drawn afresh each time.

use statrs::distribution::{Continuous, ContinuousCDF, Normal};

use super::interval::{Interval, t_quantile};
use super::scores::normal_scores;
use super::separate::Share;

/// Variance that goes with a set of inputs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Explained {
    /// As a share of all variance; an unbiased estimate, so that it may come out a little below nought.
    pub share: f64,
    /// Its standard error.
    pub se: f64,
    /// All variance, in the square of the value's unit.
    pub variance: f64,
}

impl Explained {
    /// The share with its interval, held within 0 and 1.
    #[must_use]
    pub fn as_share(&self, level: f64) -> Share {
        let z = t_quantile(level, u64::MAX);
        let within = |share: f64| share.clamp(0.0, 1.0);
        Share {
            share: within(self.share),
            interval: Interval {
                low: within(self.share - z * self.se),
                high: within(self.share + z * self.se),
            },
        }
    }

    /// The mean of a normal law about the estimate, cut off below nought.
    fn share_above_nought(&self) -> f64 {
        let (normal, score) = (Normal::standard(), self.share / self.se);
        let left = normal.cdf(score);
        if left > 0.0 { self.share + self.se * normal.pdf(score) / left } else { 0.0 }
    }

    /// The probability that the values' mean, given the inputs, is above nought: Φ(μ/σ), where σ² is the
    /// variance that goes with the inputs.
    ///
    /// `mean` is the mean of the values with its standard error `se`. For σ² stands the mean of what it may be as
    /// no less than nought, so that few values do not make certain. The interval goes through the corners of two
    /// intervals, for μ and for σ, each of half the error.
    ///
    /// - **Holds for** means that spread about as a normal law over the inputs, as a sum of many small parts does.
    #[must_use]
    pub fn chance_above_nought(&self, mean: f64, se: f64, level: f64) -> Share {
        let each = 0.5 + 0.5 * level;
        let z = t_quantile(each, u64::MAX);
        let spread = self.as_share(each);
        let above = |mean: f64, share: f64| match mean / (self.variance * share).sqrt() {
            score if score.is_nan() => 0.5,
            score => Normal::standard().cdf(score),
        };
        let corners = [mean - z * se, mean + z * se].map(|mean| {
            [spread.interval.low, spread.interval.high].map(|share| above(mean, share))
        });
        let corners = corners.as_flattened().iter().copied();
        Share {
            share: above(mean, self.share_above_nought()),
            interval: Interval {
                low: corners.clone().fold(1.0, f64::min),
                high: corners.fold(0.0, f64::max),
            },
        }
    }
}

/// Inputs that were drawn afresh each time, ready to be held against any values of the same times.
///
/// Each input becomes normal scores z, and has two orthonormal functions, z and (z² − 1)/√2: what bends with it
/// counts as well as what rises with it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Inputs {
    functions: Vec<Vec<f64>>,
}

impl Inputs {
    /// From a column of numbers for each input, all drawn independently of one another.
    #[must_use]
    pub fn of(columns: &[Vec<f32>]) -> Self {
        let both = |column: &Vec<f32>| {
            let scores = normal_scores(column);
            let bent = scores.iter().map(|z| z * z).collect();
            [scores, bent]
        };
        Self { functions: columns.iter().flat_map(both).filter_map(standardised).collect() }
    }

    /// The share of the variance of `values` that goes with the inputs; values beyond the inputs' are not looked at.
    ///
    /// With f one of the q functions and y the values about their mean, its part is estimated without bias by
    /// leaving out what each value has in common with itself:
    ///
    /// σ̂² = Σ_f ((Σᵢ yᵢ fᵢ)² − Σᵢ (yᵢ fᵢ)²) / (n (n − 1)),  se² ≈ s²(2 q s² / n² + 4 σ̂² / n)
    ///
    /// - **Holds for** what inputs do one by one; what two do only together is left with the rest, and so is what
    ///   bends more than once.
    /// - **Source** Sobol' 1993 for the parts; the estimate is the second-order U-statistic (Hoeffding 1948).
    /// - **Checked by** V-62.
    ///
    /// None of fewer than twenty values, without inputs, or where the values do not vary.
    #[must_use]
    pub fn explain(&self, values: impl IntoIterator<Item = f64>) -> Option<Explained> {
        const FEWEST: usize = 20;
        let n = self.functions.first()?.len();
        let mut about_mean: Vec<f64> = values.into_iter().take(n).collect();
        if n < FEWEST || about_mean.len() < n {
            return None;
        }
        let days = n as f64;
        let mean = about_mean.iter().sum::<f64>() / days;
        about_mean.iter_mut().for_each(|y| *y -= mean);
        let variance = about_mean.iter().map(|y| y * y).sum::<f64>() / (days - 1.0);
        if variance <= 0.0 {
            return None;
        }
        let mut part = 0.0;
        for function in &self.functions {
            let (mut sum, mut own) = (0.0, 0.0);
            for (y, f) in about_mean.iter().zip(function) {
                sum += y * f;
                own += (y * f) * (y * f);
            }
            part += (sum * sum - own) / (days * (days - 1.0));
        }
        let share = part / variance;
        let chance = 2.0 * self.functions.len() as f64 / (days * days);
        let se = (chance + 4.0 * share.max(0.0) / days).sqrt();
        Some(Explained { share, se, variance })
    }
}

/// Numbers with mean nought and mean square one; none where they do not vary.
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
