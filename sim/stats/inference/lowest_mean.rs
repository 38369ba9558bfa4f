//! Intervals for the mean of the lowest values.

use super::interval::{Interval, t_quantile};
use crate::stats::describe::Summary;

/// Smallest number of values among the lowest for which an interval of their mean is stated.
const MIN_TAIL_VALUES: f64 = 10.0;

/// Influence of each value on the mean of the lowest `share` of all, one after another as the values come.
///
/// ψᵢ = mean(d) − dᵢ, where dᵢ = max(q − xᵢ, 0) / share and q is the smallest value above the lowest share. The standard
/// error of the mean of the lowest is that of mean(ψ).
///
/// - **Source** Manistre & Hancock 2005 (North American Actuarial Journal 9:129).
/// - **Checked by** V-242 (coverage).
pub fn lowest_influences(values: &[f64], share: f64) -> Vec<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let next = (share * values.len() as f64).ceil() as usize;
    let Some(&q) = sorted.get(next).or(sorted.last()) else { return Vec::new() };
    let shortfalls: Vec<f64> = values.iter().map(|value| (q - value).max(0.0) / share).collect();
    let mean = shortfalls.iter().sum::<f64>() / values.len() as f64;
    shortfalls.into_iter().map(|shortfall| mean - shortfall).collect()
}

/// Interval for the mean of the lowest `share` of n values, or for a difference of two, from its influences. `None` if
/// fewer than ten are among the lowest.
///
/// Student's t with as many degrees of freedom as there are values among the lowest, less one: only these say how far
/// the lowest differ.
///
/// - **Checked by** V-242 (coverage).
pub fn lowest_mean_interval(
    mean: f64,
    influences: &[f64],
    share: f64,
    level: f64,
) -> Option<Interval> {
    let lowest = share * influences.len() as f64;
    if lowest < MIN_TAIL_VALUES {
        return None;
    }
    let half = t_quantile(level, lowest as u64 - 1) * influence_se(influences)?;
    Some(Interval { low: mean - half, high: mean + half })
}

/// Standard error of a mean from the influences of its values. `None` for fewer than two.
fn influence_se(influences: &[f64]) -> Option<f64> {
    let mut summary = Summary::default();
    influences.iter().for_each(|&influence| summary.add(influence));
    summary.se()
}
