//! Weibull times with a share that never comes (a mixture cure model), fitted by maximum likelihood.

use statrs::distribution::{ChiSquared, ContinuousCDF};

use super::censored_time::CensoredTime;
use super::weibull::{fit_weibull, weighted_maximum};
use super::weibull_model::WeibullModel;
use crate::numerics::{exp, ln};

/// A fitted Weibull distribution with a share that never comes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CureFit {
    /// Share, shape and scale.
    pub model: WeibullModel,
    /// Log-likelihood at the maximum.
    pub log_likelihood: f64,
    /// Standard error of the logit of the share, from the observed information.
    pub se_logit_never: f64,
    /// Standard error of the logarithm of the shape.
    pub se_ln_shape: f64,
    /// Standard error of the logarithm of the scale.
    pub se_ln_scale: f64,
    /// Chance that the likelihood would rise this much or more if in fact every time came at last.
    pub p_value: f64,
}

/// Logit of the share that comes, ln scale, ln shape.
type Parameters = [f64; 3];

/// Rounds of expectation and maximisation before Newton's method takes over.
const EM_ROUNDS: u32 = 60;
/// Steps of Newton's method at most.
const NEWTON_STEPS: u32 = 60;
/// Beyond this logit the share that never comes is zero for all purposes.
const MAX_LOGIT: f64 = 12.0;

/// Fits a Weibull distribution with a share that never comes. `None` if no such share improves on the plain Weibull fit,
/// or if there is no plain fit.
///
/// Maximises Σ over events of ln f + Σ over censored times of ln S, with S = π + (1 − π) S₀, by expectation–maximisation
/// and then by Newton's method. The p-value is that of the likelihood ratio, half a chi-square with one degree of
/// freedom, since the share cannot be negative.
///
/// - **Holds for** logs in which some times are much longer than most events; otherwise the share and a falling hazard
///   cannot be separated, and its standard error is large.
/// - **Source** Farewell 1982; Maller & Zhou 1996 (from memory).
/// - **Checked by** V-311.
pub fn fit_weibull_with_cure(times: &[CensoredTime]) -> Option<CureFit> {
    let plain = fit_weibull(times)?;
    let mut parameters = expectation_maximisation(times, &plain.model)?;
    for _ in 0..NEWTON_STEPS {
        let Some(next) = newton_step(times, &parameters) else { break };
        let change = (0..3).map(|k| (next[k] - parameters[k]).abs()).fold(0.0, f64::max);
        parameters = next;
        if change < 1e-12 {
            break;
        }
    }
    let log_likelihood = log_likelihood(times, &parameters);
    let gain = log_likelihood - plain.log_likelihood;
    if parameters[0].abs() > MAX_LOGIT || gain <= 1e-9 {
        return None;
    }
    let variances = diagonal_of_inverse(&hessian(times, &parameters).map(|row| row.map(|x| -x)))?;
    let model = model(&parameters);
    let p_value = 0.5 * ChiSquared::new(1.0).ok()?.sf(2.0 * gain);
    let [se_logit_never, se_ln_scale, se_ln_shape] = variances.map(f64::sqrt);
    let is_maximum = variances.iter().all(|&variance| variance > 0.0);
    is_maximum.then_some(CureFit {
        model,
        log_likelihood,
        se_logit_never,
        se_ln_shape,
        se_ln_scale,
        p_value,
    })
}

fn model(parameters: &Parameters) -> WeibullModel {
    let never_share = 1.0 / (1.0 + exp(parameters[0]));
    WeibullModel { never_share, shape: exp(parameters[2]), scale: exp(parameters[1]) }
}

/// Starts at half of the censored times and moves towards the maximum without ever losing likelihood.
fn expectation_maximisation(times: &[CensoredTime], plain: &WeibullModel) -> Option<Parameters> {
    let censored = times.iter().filter(|time| !time.is_event).count() as f64;
    let mut model = WeibullModel { never_share: 0.5 * censored / times.len() as f64, ..*plain };
    for _ in 0..EM_ROUNDS {
        let weights: Vec<f64> = times
            .iter()
            .map(|time| match time.is_event {
                true => 1.0,
                false => 1.0 - model.never_share / model.survival(time.time),
            })
            .collect();
        let (shape, scale) = weighted_maximum(times, &weights)?;
        let never_share = 1.0 - weights.iter().sum::<f64>() / times.len() as f64;
        model = WeibullModel { never_share, shape, scale };
    }
    let comes = (1.0 - model.never_share) / model.never_share;
    let is_inside = comes.is_finite() && comes > 0.0;
    is_inside.then(|| [ln(comes), ln(model.scale), ln(model.shape)])
}

/// ln(f) or ln(S) of each time, added up.
fn log_likelihood(times: &[CensoredTime], parameters: &Parameters) -> f64 {
    let model = model(parameters);
    let log = |time: &CensoredTime| match time.is_event {
        true => ln(model.hazard(time.time)) + ln(model.survival(time.time)),
        false => ln(model.survival(time.time)),
    };
    times.iter().map(log).sum()
}

/// Derivatives of the log-likelihood.
fn gradient(times: &[CensoredTime], parameters: &Parameters) -> Parameters {
    let model = model(parameters);
    let comes = 1.0 - model.never_share;
    let mut sum = [0.0; 3];
    for time in times {
        let z = model.shape * ln(time.time / model.scale);
        let hazard = exp(z);
        // Derivatives with respect to the logit, and to z.
        let (by_logit, by_z) = if time.is_event {
            (model.never_share, 1.0 - hazard)
        } else {
            let coming = comes * exp(-hazard);
            let survival = model.never_share + coming;
            (
                comes * model.never_share * (exp(-hazard) - 1.0) / survival,
                -coming * hazard / survival,
            )
        };
        sum[0] += by_logit;
        sum[1] -= model.shape * by_z;
        sum[2] += z * by_z + f64::from(u8::from(time.is_event));
    }
    sum
}

/// Second derivatives, by central differences of the gradient.
fn hessian(times: &[CensoredTime], parameters: &Parameters) -> [Parameters; 3] {
    const STEP: f64 = 1e-5;
    let rows = [0, 1, 2].map(|k| {
        let shifted = |step: f64| {
            let mut shifted = *parameters;
            shifted[k] += step;
            gradient(times, &shifted)
        };
        let (above, below) = (shifted(STEP), shifted(-STEP));
        [0, 1, 2].map(|j| (above[j] - below[j]) / (2.0 * STEP))
    });
    // Rounding leaves the two halves slightly different.
    [0, 1, 2].map(|k| [0, 1, 2].map(|j| 0.5 * (rows[k][j] + rows[j][k])))
}

/// One step of Newton's method, shortened until the likelihood does not fall. `None` if no step raises it.
fn newton_step(times: &[CensoredTime], parameters: &Parameters) -> Option<Parameters> {
    let slope = gradient(times, parameters);
    let information = hessian(times, parameters).map(|row| row.map(|x| -x));
    let step = solve(&information, &slope)?;
    let now = log_likelihood(times, parameters);
    let mut share = 1.0;
    for _ in 0..30 {
        let next = [0, 1, 2].map(|k| parameters[k] + share * step[k]);
        if log_likelihood(times, &next) >= now {
            return Some(next);
        }
        share *= 0.5;
    }
    None
}

/// Solves three linear equations by Cramer's rule. `None` if they have no single solution.
fn solve(matrix: &[Parameters; 3], right: &Parameters) -> Option<Parameters> {
    let whole = determinant(matrix);
    let solution = [0, 1, 2].map(|k| {
        let mut replaced = *matrix;
        replaced.iter_mut().zip(right).for_each(|(row, &value)| row[k] = value);
        determinant(&replaced) / whole
    });
    solution.iter().all(|value| value.is_finite()).then_some(solution)
}

fn determinant([a, b, c]: &[Parameters; 3]) -> f64 {
    a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0])
        + a[2] * (b[0] * c[1] - b[1] * c[0])
}

fn diagonal_of_inverse(matrix: &[Parameters; 3]) -> Option<Parameters> {
    let mut diagonal = [0.0; 3];
    for (k, entry) in diagonal.iter_mut().enumerate() {
        let mut unit = [0.0; 3];
        unit[k] = 1.0;
        *entry = solve(matrix, &unit)?[k];
    }
    Some(diagonal)
}
