//! Probability of superiority: which of two is larger on independent days, from days on which both were seen.

use super::interval::{Interval, Proportion, t_quantile, wilson_interval};
use crate::numerics::{exp, ln, square};

/// Probability that `a` on one day exceeds `b` on another; ties count half. `None` for fewer than three days.
///
/// θ = Σ_{i≠j} (1(aᵢ > bⱼ) + ½ 1(aᵢ = bⱼ)) / (n (n − 1))
///
/// Each day has both values. All n (n − 1) pairs of different days count; the n pairs of the same day do not. The
/// algorithm sorts, so it takes n log n steps.
///
/// The standard error comes from each day's contribution to θ: hᵢ = proportion of the other days' b below aᵢ +
/// proportion of the other days' a above bᵢ, and se² = var(h)/n. The interval is computed on the logit scale. If all
/// pairs point the same way, it is Wilson's interval for n of n.
///
/// - **Holds for** days that are independent of one another.
/// - **Source** Mann & Whitney 1947; Hoeffding 1948 for the standard error; Newcombe 2006 (Statistics in
///   Medicine 25:559) for the logit scale.
/// - **Checked by** V-55 (normal distributions, plain counting, coverage).
///
/// # Panics
///
/// If the two have different lengths, or `level` is not between 0 and 1.
pub fn probability_of_superiority(a: &[u32], b: &[u32], level: f64) -> Option<Proportion> {
    assert_eq!(a.len(), b.len(), "each day has both values");
    let n = a.len();
    if n < 3 {
        return None;
    }
    let sorted = |values: &[u32]| {
        let mut sorted = values.to_vec();
        sorted.sort_unstable();
        sorted
    };
    let (sorted_a, sorted_b) = (sorted(a), sorted(b));
    // Counted in halves, so that ties stay whole numbers: each lower value counts 2, each equal value 1.
    let halves_below = |sorted: &[u32], value: u32| {
        let below = sorted.partition_point(|&other| other < value);
        let up_to = sorted.partition_point(|&other| other <= value);
        (below + up_to) as u64
    };
    let mut win_halves = 0_u64;
    let contributions: Vec<f64> = a
        .iter()
        .zip(b)
        .map(|(&a_today, &b_today)| {
            let same_day = match a_today.cmp(&b_today) {
                std::cmp::Ordering::Greater => 2,
                std::cmp::Ordering::Equal => 1,
                std::cmp::Ordering::Less => 0,
            };
            let a_wins = halves_below(&sorted_b, a_today) - same_day;
            let b_loses = 2 * n as u64 - halves_below(&sorted_a, b_today) - same_day;
            win_halves += a_wins;
            (a_wins + b_loses) as f64 / (2 * (n - 1)) as f64
        })
        .collect();
    let share = win_halves as f64 / (2 * n * (n - 1)) as f64;
    let scatter: f64 = contributions.iter().map(|h| square(h - 2.0 * share)).sum();
    let se = (scatter / ((n - 1) * n) as f64).sqrt();
    let logit_slope = share * (1.0 - share);
    let interval = if logit_slope > 0.0 && se > 0.0 {
        let logit = ln(share / (1.0 - share));
        let half = t_quantile(level, n as u64 - 1) * se / logit_slope;
        let inverse = |logit: f64| 1.0 / (1.0 + exp(-logit));
        Interval { low: inverse(logit - half), high: inverse(logit + half) }
    } else {
        wilson_interval(share * n as f64, n as u64, level)?
    };
    Some(Proportion { estimate: share, interval })
}
