//! Intervals for shares that depend on the ranks of the sample's own days.

use super::interval::{Interval, z_quantile};
use crate::numerics::{normal_cumulative, normal_density, square};
use crate::stats::describe::Summary;

/// Influence of each day on the mean of values hᵢ = h(xᵢ, gᵢ), where gᵢ is the normal score of the day among these days.
///
/// ψᵢ = hᵢ − h̄ + 1/n Σⱼ h′ⱼ/φ(gⱼ) (1[gᵢ ≤ gⱼ] − Φ(gⱼ)), h′ the derivative of h by g: a day counts by its own value, and by what
/// its presence does to the ranks of the others. The standard error of the mean is that of mean(ψ).
///
/// - **Source** von Mises 1947 (Annals of Mathematical Statistics 18:309, from memory); the projection of a rank statistic.
/// - **Checked by** V-393 (coverage).
pub fn rank_influences(values: &[f64], slopes: &[f64], scores: &[f64]) -> Vec<f64> {
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let mut order: Vec<usize> = (0..values.len()).collect();
    order.sort_by(|&i, &j| scores[i].total_cmp(&scores[j]));
    let weight = |day: usize| slopes[day] / normal_density(scores[day]) / n;
    let whole: f64 = order.iter().map(|&day| weight(day) * normal_cumulative(scores[day])).sum();
    // The sum over all days that are ranked at or above each day, from the best day down.
    let (mut above, mut influences) = (0.0, vec![0.0; values.len()]);
    for ties in order.chunk_by(|&i, &j| scores[i].total_cmp(&scores[j]).is_eq()).rev() {
        above += ties.iter().map(|&day| weight(day)).sum::<f64>();
        for &day in ties {
            influences[day] = values[day] - mean + above - whole;
        }
    }
    influences
}

/// Interval for a share that is a mean over days, from their influences: Wilson's interval for as many trials as have its
/// standard error, but no more than there are days. `None` without days.
///
/// - **Source** Korn & Graubard 1998 (Survey Methodology 24:193, from memory) for a number of trials by the standard error.
/// - **Checked by** V-393 (coverage).
pub fn share_interval(share: f64, influences: &[f64], level: f64) -> Option<Interval> {
    let days = influences.len() as f64;
    let mut summary = Summary::default();
    influences.iter().for_each(|&influence| summary.add(influence));
    let variance = summary.se().map_or(0.0, square);
    let trials = share * (1.0 - share) / variance;
    let n = if trials.is_finite() && trials > 0.0 { trials.min(days) } else { days };
    (n > 0.0).then(|| Interval::wilson(share, n, z_quantile(level)))
}
