//! Intervals for quantiles, from the order of the values alone.

use statrs::function::gamma::ln_gamma;

/// Two ranks among sorted values, counted from 1, and how surely the quantile lies between their values.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ranks {
    /// The lower rank.
    pub low: usize,
    /// The upper rank.
    pub high: usize,
    /// The probability that they enclose the quantile; at least what was asked.
    pub level: f64,
}

/// The nearest two ranks (r, s) of `n` sorted values that enclose the quantile `p` with probability `level`,
/// whatever the law: Σ_{i=r}^{s−1} C(n, i) pⁱ (1 − p)ⁿ⁻ⁱ ≥ level. Of several as near, those that are surest.
///
/// None where even the least and the greatest value are not sure enough.
///
/// - **Source** any textbook of order statistics (David & Nagaraja 2003, section 7.1).
/// - **Checked by** V-52.
///
/// # Panics
///
/// If `p` is not between 0 and 1.
#[must_use]
pub fn quantile_ranks(n: usize, p: f64, level: f64) -> Option<Ranks> {
    assert!(p > 0.0 && p < 1.0, "a quantile lies between 0 and 1, not at {p}");
    let trials = n as f64;
    let ln_chance = |i: usize| {
        let i = i as f64;
        ln_gamma(trials + 1.0) - ln_gamma(i + 1.0) - ln_gamma(trials - i + 1.0)
            + i * p.ln()
            + (trials - i) * (1.0 - p).ln()
    };
    // Chances of 1, 2, …, n − 1 values below the quantile; of none or all, no rank encloses it.
    let chances: Vec<f64> = (1..n).map(|i| ln_chance(i).exp()).collect();
    let mut best: Option<Ranks> = None;
    let (mut low, mut sum) = (0, 0.0);
    for (high, chance) in chances.iter().enumerate() {
        sum += chance;
        while low < high && sum - chances[low] >= level {
            sum -= chances[low];
            low += 1;
        }
        let found = Ranks { low: low + 1, high: high + 2, level: sum };
        let (width, narrowest) =
            (found.high - found.low, best.map_or(n, |best| best.high - best.low));
        // A hair more is rounding: symmetric ranks are as sure as one another.
        let surer = best.is_none_or(|best| sum > best.level + 1e-12);
        if sum >= level && (width < narrowest || (width == narrowest && surer)) {
            best = Some(found);
        }
    }
    best
}
