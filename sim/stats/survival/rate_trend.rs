//! How an event rate rises or falls over time.

use crate::numerics::exp;

/// Relative change of a rate per unit of time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RateTrend {
    /// Slope of the logarithm of the rate; below zero if the rate falls.
    pub slope: f64,
    /// Its standard error, from the observed information.
    pub se: f64,
}

/// Nodes and weights of Gauss–Legendre integration with five points, on −1 to 1 (Abramowitz & Stegun 1964, 25.4).
const NODES: [(f64, f64); 5] = [
    (0.0, 0.568_888_888_888_888_9),
    (0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (-0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
    (0.906_179_845_938_664, 0.236_926_885_056_189_1),
    (-0.906_179_845_938_664, 0.236_926_885_056_189_1),
];

/// Fits a rate proportional to exp(slope · t) to events in stretches of time `(from, to)` in which events could happen.
/// `None` for fewer than two events, or if there is no maximum.
///
/// Maximises slope · Σ t − d ln ∫ exp(slope · t) by Newton's method; a stretch must be short compared with the time in
/// which the rate changes.
///
/// - **Source** Cox & Lewis 1966 (from memory).
/// - **Checked by** V-313.
pub fn rate_trend(events: &[f64], stretches: &[(f64, f64)]) -> Option<RateTrend> {
    let count = events.len() as f64;
    let sum: f64 = events.iter().sum();
    let mut slope = 0.0;
    for _ in 0..100 {
        let (mean, variance) = weighted_moments(stretches, slope)?;
        let step = (sum - count * mean) / (count * variance);
        // A full step from far away may overshoot; the spread of the times limits it.
        let limit = 1.0 / variance.sqrt();
        slope += step.clamp(-limit, limit);
        if step.abs() < 1e-12 * limit {
            let se = 1.0 / (count * variance).sqrt();
            return (events.len() > 1).then_some(RateTrend { slope, se });
        }
    }
    None
}

/// Mean and variance of time over the stretches, weighted with exp(slope · t). `None` if there is no spread.
fn weighted_moments(stretches: &[(f64, f64)], slope: f64) -> Option<(f64, f64)> {
    let centre = stretches.iter().map(|(from, to)| from.max(*to)).fold(0.0, f64::max);
    let (mut sum, mut first, mut second) = (0.0, 0.0, 0.0);
    for &(from, to) in stretches {
        let (middle, half) = (0.5 * (from + to), 0.5 * (to - from));
        for (node, weight) in NODES {
            let time = middle + half * node;
            let weight = weight * half * exp(slope * (time - centre));
            sum += weight;
            first += weight * time;
            second += weight * time * time;
        }
    }
    let mean = first / sum;
    let variance = second / sum - mean * mean;
    (variance > 0.0 && mean.is_finite()).then_some((mean, variance))
}
