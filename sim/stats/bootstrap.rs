//! The bootstrap: days drawn again from the days there were.

use super::interval::Interval;
use super::quantile::quantile;

/// What a statistic came to on many samples drawn again, in the order of size.
#[derive(Clone, Debug, PartialEq)]
pub struct Resampled {
    sorted: Vec<f64>,
}

/// How often each of `n` days is drawn when `n` are drawn again with replacement; `times` such samples, one after
/// another, are handed to `take`. `pick(n)` draws a number below n.
///
/// - **Source** Efron & Tibshirani 1993.
/// - **Checked by** V-53 (their mouse data).
pub fn draw_again(
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

impl Resampled {
    /// From the statistic on each sample.
    #[must_use]
    pub fn new(mut values: Vec<f64>) -> Self {
        values.sort_by(f64::total_cmp);
        Self { sorted: values }
    }

    /// The bootstrap's standard error: the standard deviation over the samples; none of fewer than two.
    #[must_use]
    pub fn se(&self) -> Option<f64> {
        let n = self.sorted.len() as f64;
        let mean = self.sorted.iter().sum::<f64>() / n;
        let squares: f64 = self.sorted.iter().map(|value| (value - mean).powi(2)).sum();
        (self.sorted.len() > 1).then(|| (squares / (n - 1.0)).sqrt())
    }

    /// The percentile interval; none without samples.
    #[must_use]
    pub fn interval(&self, level: f64) -> Option<Interval> {
        let tail = 0.5 * (1.0 - level);
        let (low, high) = (quantile(&self.sorted, tail)?, quantile(&self.sorted, 1.0 - tail)?);
        Some(Interval { low, high })
    }
}

/// The mean of the lowest `share` of values, each counted `count` times; a value at the edge counts in part. The
/// values come in order of size. None where nothing is counted.
///
/// - **Source** Rockafellar & Uryasev 2000 (conditional value at risk).
/// - **Checked by** V-54 (normal law).
#[must_use]
pub fn lower_tail_mean(
    sorted: impl IntoIterator<Item = (f64, u32)>,
    n: u64,
    share: f64,
) -> Option<f64> {
    let wanted = share * n as f64;
    let (mut taken, mut sum) = (0.0, 0.0);
    for (value, count) in sorted {
        let take = f64::from(count).min(wanted - taken);
        sum += take * value;
        taken += take;
        if taken >= wanted {
            break;
        }
    }
    (taken > 0.0).then(|| sum / taken)
}
