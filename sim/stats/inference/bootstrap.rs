//! The bootstrap: resamples the days with replacement.

use super::interval::Interval;
use crate::numerics::square;
use crate::stats::describe::quantile;

/// A statistic's values on many bootstrap samples, sorted.
#[derive(Clone, Debug, PartialEq)]
pub struct BootstrapDistribution {
    sorted: Vec<f64>,
}

/// Draws `times` bootstrap samples of `n` days, and calls `take` for each with how often every day was drawn.
///
/// `pick(n)` draws a number below n.
///
/// - **Source** Efron & Tibshirani 1993.
/// - **Checked by** V-53 (their mouse data).
pub fn bootstrap_counts(
    n: usize,
    times: u32,
    mut pick: impl FnMut(usize) -> usize,
    mut take: impl FnMut(&[u32]),
) {
    let mut counts = vec![0; n];
    for _ in 0..times {
        counts.fill(0);
        (0..n).for_each(|_| counts[pick(n)] += 1);
        take(&counts);
    }
}

impl BootstrapDistribution {
    /// From the statistic's value on each sample.
    pub fn from_values(mut values: Vec<f64>) -> Self {
        values.sort_by(f64::total_cmp);
        Self { sorted: values }
    }

    /// Bootstrap standard error: the standard deviation over the samples. `None` for fewer than two samples.
    pub fn se(&self) -> Option<f64> {
        let n = self.sorted.len() as f64;
        let mean = self.sorted.iter().sum::<f64>() / n;
        let squares: f64 = self.sorted.iter().map(|value| square(value - mean)).sum();
        (self.sorted.len() > 1).then(|| (squares / (n - 1.0)).sqrt())
    }

    /// Percentile interval. `None` without samples.
    pub fn interval(&self, level: f64) -> Option<Interval> {
        let tail = 0.5 * (1.0 - level);
        let (low, high) = (quantile(&self.sorted, tail)?, quantile(&self.sorted, 1.0 - tail)?);
        Some(Interval { low, high })
    }
}

/// Mean of the lowest `share` of `n` values, given in ascending order as (value, count). A value at the edge counts in
/// part. `None` if nothing is counted.
///
/// - **Source** Rockafellar & Uryasev 2000 (conditional value at risk).
/// - **Checked by** V-54 (normal distribution).
pub fn lower_tail_mean(
    sorted: impl IntoIterator<Item = (f64, u32)>,
    n: u64,
    share: f64,
) -> Option<f64> {
    let size = share * n as f64;
    let (mut counted, mut sum) = (0.0, 0.0);
    for (value, count) in sorted {
        let weight = f64::from(count).min(size - counted);
        sum += weight * value;
        counted += weight;
        if counted >= size {
            break;
        }
    }
    (counted > 0.0).then(|| sum / counted)
}
