//! Normal scores: ranks as values of the standard normal distribution.

use crate::numerics::normal_quantile;

/// Normal score of each value (van der Waerden): Φ⁻¹(rank/(n + 1)). Equal values share the mean of their scores.
///
/// A sample of n different values always has the same n scores.
pub fn normal_scores<T: Copy + PartialOrd>(values: &[T]) -> Vec<f64> {
    let n = values.len();
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by(|&i, &j| values[i].partial_cmp(&values[j]).unwrap_or(std::cmp::Ordering::Equal));
    let by_rank: Vec<f64> =
        (1..=n).map(|rank| normal_quantile(rank as f64 / (n + 1) as f64)).collect();
    let mut scores = vec![0.0; n];
    let mut from = 0;
    for ties in order.chunk_by(|&i, &j| values[i] == values[j]) {
        let shared = by_rank[from..from + ties.len()].iter().sum::<f64>() / ties.len() as f64;
        ties.iter().for_each(|&index| scores[index] = shared);
        from += ties.len();
    }
    scores
}
