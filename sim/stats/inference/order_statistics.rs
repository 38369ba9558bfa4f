//! Order statistics: intervals for quantiles that hold for any distribution.

use crate::numerics::{exp, ln, ln_gamma};

/// Two ranks among sorted values, counted from 1, whose values enclose a quantile.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct QuantileRanks {
    /// Lower rank.
    pub low: usize,
    /// Upper rank.
    pub high: usize,
    /// Probability that the values at these ranks enclose the quantile; at least the level requested.
    pub level: f64,
}

/// Closest two ranks (r, s) of `n` sorted values that enclose the quantile `p` with probability `level`. `None` if even
/// the smallest and the largest value do not.
///
/// Σ_{i=r}^{s−1} C(n, i) pⁱ (1 − p)ⁿ⁻ⁱ ≥ level
///
/// Among equally close pairs, the one with the highest probability is taken.
///
/// - **Holds for** any distribution.
///
/// - **Source** any textbook on order statistics (David & Nagaraja 2003, section 7.1).
/// - **Checked by** V-52.
///
/// # Panics
///
/// If `p` is not between 0 and 1.
pub fn quantile_ranks(n: usize, p: f64, level: f64) -> Option<QuantileRanks> {
    assert!(p > 0.0 && p < 1.0, "a quantile lies between 0 and 1; {p} does not");
    let trials = n as f64;
    let ln_probability = |i: usize| {
        let i = i as f64;
        ln_gamma(trials + 1.0) - ln_gamma(i + 1.0) - ln_gamma(trials - i + 1.0)
            + i * ln(p)
            + (trials - i) * ln(1.0 - p)
    };
    // Probabilities of 1, 2, …, n − 1 values below the quantile. With 0 or n below, no two ranks enclose it.
    let probabilities: Vec<f64> = (1..n).map(|i| exp(ln_probability(i))).collect();
    let mut best: Option<QuantileRanks> = None;
    let (mut low, mut sum) = (0, 0.0);
    for (high, probability) in probabilities.iter().enumerate() {
        sum += probability;
        while low < high && sum - probabilities[low] >= level {
            sum -= probabilities[low];
            low += 1;
        }
        let ranks = QuantileRanks { low: low + 1, high: high + 2, level: sum };
        let (width, narrowest) =
            (ranks.high - ranks.low, best.map_or(n, |best| best.high - best.low));
        // A difference this small is rounding: symmetric pairs have equal probabilities.
        let more_probable = best.is_none_or(|best| sum > best.level + 1e-12);
        if sum >= level && (width < narrowest || (width == narrowest && more_probable)) {
            best = Some(ranks);
        }
    }
    best
}
