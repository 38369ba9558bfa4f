//! Which of two is the larger on two separate days, from days on which both were seen.

use super::interval::{Interval, t_quantile, wilson};

/// A share with its interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    /// The estimate, 0 to 1.
    pub share: f64,
    /// Its interval.
    pub interval: Interval,
}

/// The probability that `a` on one day exceeds `b` on another, ties counting half, from n days with both.
///
/// θ = Σ_{i≠j} (1(aᵢ > bⱼ) + ½ 1(aᵢ = bⱼ)) / (n (n − 1))
///
/// All n (n − 1) pairs of separate days count, the n pairs of the same day do not. Sorting makes it n log n.
/// The standard error is that of the day's part in θ, hᵢ = share of the other days' b below aᵢ + share of the
/// other days' a above bᵢ: se² = var(h)/n. The interval is θ's on the scale of the logit; where all pairs fall
/// one way it is Wilson's for n of n. None of fewer than three days.
///
/// - **Holds for** days that are independent of one another.
/// - **Source** Mann & Whitney 1947; Hoeffding 1948 for the standard error; Newcombe 2006 (Statistics in
///   Medicine 25:559) for the scale.
/// - **Checked by** V-55 (normal laws, plain counting, coverage).
///
/// # Panics
///
/// If the two are not of one length, or `level` is not between 0 and 1.
#[must_use]
pub fn larger_on_separate_days(a: &[u32], b: &[u32], level: f64) -> Option<Share> {
    assert_eq!(a.len(), b.len(), "each day has both");
    let n = a.len();
    if n < 3 {
        return None;
    }
    let sorted = |of: &[u32]| {
        let mut sorted = of.to_vec();
        sorted.sort_unstable();
        sorted
    };
    let (sorted_a, sorted_b) = (sorted(a), sorted(b));
    // In halves, so that ties stay whole numbers: values below twice, values equal once.
    let halves_below = |sorted: &[u32], value: u32| {
        let below = sorted.partition_point(|&other| other < value);
        let up_to = sorted.partition_point(|&other| other <= value);
        (below + up_to) as u64
    };
    let mut sum_of_wins = 0_u64;
    let day_parts: Vec<f64> = a
        .iter()
        .zip(b)
        .map(|(&a_today, &b_today)| {
            let today = match a_today.cmp(&b_today) {
                std::cmp::Ordering::Greater => 2,
                std::cmp::Ordering::Equal => 1,
                std::cmp::Ordering::Less => 0,
            };
            let a_wins = halves_below(&sorted_b, a_today) - today;
            let b_loses = 2 * n as u64 - halves_below(&sorted_a, b_today) - today;
            sum_of_wins += a_wins;
            (a_wins + b_loses) as f64 / (2 * (n - 1)) as f64
        })
        .collect();
    let share = sum_of_wins as f64 / (2 * n * (n - 1)) as f64;
    let scatter: f64 = day_parts.iter().map(|part| (part - 2.0 * share).powi(2)).sum();
    let se = (scatter / ((n - 1) * n) as f64).sqrt();
    let product = share * (1.0 - share);
    let interval = if product > 0.0 && se > 0.0 {
        let logit = (share / (1.0 - share)).ln();
        let half = t_quantile(level, n as u64 - 1) * se / product;
        let back = |logit: f64| 1.0 / (1.0 + (-logit).exp());
        Interval { low: back(logit - half), high: back(logit + half) }
    } else {
        wilson(share * n as f64, n as u64, level)?
    };
    Some(Share { share, interval })
}
