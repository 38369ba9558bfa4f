//! Ranks as normal scores.

use statrs::distribution::{ContinuousCDF, Normal};

/// Each value's rank among the others as a score of the standard normal: Φ⁻¹(rank/(n + 1)), equal values sharing
/// the mean of their scores (van der Waerden).
///
/// The scores of n values that all differ are the same n numbers, whatever the values.
#[must_use]
pub fn normal_scores<T: Copy + PartialOrd>(values: &[T]) -> Vec<f64> {
    let n = values.len();
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by(|&i, &j| values[i].partial_cmp(&values[j]).unwrap_or(std::cmp::Ordering::Equal));
    let normal = Normal::standard();
    let by_rank: Vec<f64> =
        (1..=n).map(|rank| normal.inverse_cdf(rank as f64 / (n + 1) as f64)).collect();
    let mut scores = vec![0.0; n];
    let mut from = 0;
    for equals in order.chunk_by(|&i, &j| values[i] == values[j]) {
        let shared = by_rank[from..from + equals.len()].iter().sum::<f64>() / equals.len() as f64;
        equals.iter().for_each(|&place| scores[place] = shared);
        from += equals.len();
    }
    scores
}
