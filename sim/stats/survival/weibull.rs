//! Weibull times fitted by maximum likelihood, with right censoring.

use super::censored_time::CensoredTime;
use super::weibull_model::WeibullModel;
use crate::numerics::{exp, ln, powf};

/// A fitted Weibull distribution.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeibullFit {
    /// Shape and scale, for times that all come at last.
    pub model: WeibullModel,
    /// Log-likelihood at the maximum.
    pub log_likelihood: f64,
    /// Standard error of the logarithm of the shape, from the observed information.
    pub se_ln_shape: f64,
    /// Standard error of the logarithm of the scale, from the observed information.
    pub se_ln_scale: f64,
}

/// Range in which the shape is searched for.
const SHAPES: (f64, f64) = (0.05, 30.0);

/// Fits a Weibull distribution. `None` without events, with a time that is not above zero, or if the shape lies outside
/// 0.05 to 30 (as when all events fall on one time).
///
/// The shape k solves Σ tᵏ ln t/Σ tᵏ − 1/k = mean of ln t over events, with sums over all times; the scale is
/// (Σ tᵏ/d)^(1/k).
///
/// - **Source** textbook form (Kalbfleisch & Prentice).
/// - **Checked by** V-309 (published fits), V-310.
pub fn fit_weibull(times: &[CensoredTime]) -> Option<WeibullFit> {
    let weights = vec![1.0; times.len()];
    let (shape, scale) = weighted_maximum(times, &weights)?;
    let model = WeibullModel { never_share: 0.0, shape, scale };
    let (log_likelihood, se_ln_shape, se_ln_scale) = curvature(times, &model)?;
    Some(WeibullFit { model, log_likelihood, se_ln_shape, se_ln_scale })
}

/// Shape and scale at which the likelihood is largest, with a weight for the time that each spent at risk.
pub(super) fn weighted_maximum(times: &[CensoredTime], weights: &[f64]) -> Option<(f64, f64)> {
    let unit = times.iter().map(|time| time.time).fold(0.0, f64::max);
    if !times.iter().all(|time| time.time > 0.0 && time.time.is_finite()) {
        return None;
    }
    // In units of the longest time, no power overflows.
    let logs: Vec<f64> = times.iter().map(|time| ln(time.time / unit)).collect();
    let event_logs: Vec<f64> =
        logs.iter().zip(times).filter(|(_, time)| time.is_event).map(|(&ln, _)| ln).collect();
    let events = event_logs.len() as f64;
    if event_logs.is_empty() {
        return None;
    }
    let mean_log = event_logs.iter().sum::<f64>() / events;
    let score = |shape: f64| {
        let (mut sum, mut sum_of_logs) = (0.0, 0.0);
        for (ln, weight) in logs.iter().zip(weights) {
            let power = weight * exp(shape * ln);
            sum += power;
            sum_of_logs += power * ln;
        }
        sum_of_logs / sum - 1.0 / shape - mean_log
    };
    let (mut low, mut high) = SHAPES;
    if !(score(low) < 0.0 && score(high) > 0.0) {
        return None;
    }
    // The score rises with the shape, so halving the range always closes in on its root.
    while high - low > 1e-14 * high {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            break;
        }
        if score(middle) < 0.0 { low = middle } else { high = middle }
    }
    let shape = 0.5 * (low + high);
    let sum: f64 = logs.iter().zip(weights).map(|(ln, weight)| weight * exp(shape * ln)).sum();
    Some((shape, unit * powf(sum / events, 1.0 / shape)))
}

/// Log-likelihood, and standard errors of ln shape and ln scale from the observed information.
fn curvature(times: &[CensoredTime], model: &WeibullModel) -> Option<(f64, f64, f64)> {
    let shape = model.shape;
    let (mut log_likelihood, mut events) = (0.0, 0.0);
    let (mut sum, mut first, mut second, mut event_sum) = (0.0, 0.0, 0.0, 0.0);
    for time in times {
        let z = shape * ln(time.time / model.scale);
        let hazard = exp(z);
        log_likelihood -= hazard;
        sum += hazard;
        first += z * hazard;
        second += (z + z * z) * hazard;
        if time.is_event {
            log_likelihood += ln(shape) + z - ln(time.time);
            events += 1.0;
            event_sum += z;
        }
    }
    // Minus the second derivatives with respect to a = ln scale and b = ln shape.
    let scale_scale = shape * shape * sum;
    let shape_shape = second - event_sum;
    let scale_shape = -(shape * (sum - events) + shape * first);
    let determinant = scale_scale * shape_shape - scale_shape * scale_shape;
    (determinant > 0.0).then(|| {
        let se = |information: f64| (information / determinant).sqrt();
        (log_likelihood, se(scale_scale), se(shape_shape))
    })
}
