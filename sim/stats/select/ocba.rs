//! Optimal computing budget allocation (OCBA): more trials where the choice is close or noisy.

use crate::numerics::square;

/// Optimal allocation of a number of trials among candidates, to find the largest mean.
///
/// N_i / N_j = ((s_i/d_i) / (s_j/d_j))² for all but the best, where d_i is the deficit of i to the best, and
/// N_best = s_best √(Σ N_i²/s_i²).
///
/// So that shares stay finite, deficits and standard deviations are at least a thousandth of the largest standard
/// deviation.
///
/// - **Source** Chen, Lin, Yücesan & Chick 2000 (Discrete Event Dynamic Systems 10:251).
/// - **Checked by** V-91 (the worked example of Chen & Lee 2011).
pub fn ocba_shares(means: &[f64], variances: &[f64], trials: f64) -> Vec<f64> {
    let best = (0..means.len()).max_by(|&a, &b| means[a].total_cmp(&means[b])).unwrap_or_default();
    let widest = variances.iter().copied().fold(0.0, f64::max);
    let floor = if widest > 0.0 { 1e-3 * widest.sqrt() } else { 1.0 };
    let sd = |i: usize| variances[i].sqrt().max(floor);
    let mut shares: Vec<f64> =
        (0..means.len()).map(|i| square(sd(i) / (means[best] - means[i]).max(floor))).collect();
    let others = (0..means.len()).filter(|&i| i != best);
    if let Some(share) = shares
        .get(best)
        .is_some()
        .then(|| sd(best) * others.map(|i| square(shares[i] / sd(i))).sum::<f64>().sqrt())
    {
        shares[best] = share;
    }
    let whole: f64 = shares.iter().sum();
    shares.iter().map(|share| trials * share / whole).collect()
}

/// Rounds shares to whole numbers with the same sum: the largest remainders are rounded up.
///
/// ```
/// assert_eq!(sim::stats::round_shares(&[1.5, 0.7, 1.8]), [1, 1, 2]);
/// ```
pub fn round_shares(shares: &[f64]) -> Vec<u32> {
    let mut whole: Vec<u32> = shares.iter().map(|share| share.floor() as u32).collect();
    let sum = shares.iter().sum::<f64>().round() as u32;
    let missing = sum.saturating_sub(whole.iter().sum()) as usize;
    let mut by_remainder: Vec<usize> = (0..shares.len()).collect();
    by_remainder.sort_by(|&a, &b| shares[b].fract().total_cmp(&shares[a].fract()));
    for &i in by_remainder.iter().take(missing) {
        whole[i] += 1;
    }
    whole
}
