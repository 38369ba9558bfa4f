//! The worth of knowing more before a choice between two plans.

use crate::numerics::{normal_cumulative, normal_density};

/// Steps of the integral over what a practice may show.
const STEPS: i32 = 4000;
/// Normal scores over which it runs.
const MAX_SCORE: f64 = 6.0;

/// Chance that the plan that looks better is the worse one, if its lead is normal with this mean and standard deviation.
#[must_use]
pub fn chance_of_worse(mean: f64, sd: f64) -> f64 {
    if sd > 0.0 { normal_cumulative(-mean.abs() / sd) } else { 0.0 }
}

/// The same chance, expected after something that tells a share `settled` of the variance of the lead.
///
/// What it tells moves the mean by a normal amount with that share of the variance; the rest stays in doubt (conjugate
/// preposterior analysis, Raiffa & Schlaifer 1961).
#[must_use]
pub fn chance_of_worse_after(mean: f64, sd: f64, settled: f64) -> f64 {
    let settled = settled.clamp(0.0, 1.0);
    let (moves, left) = (sd * settled.sqrt(), sd * (1.0 - settled).sqrt());
    if moves <= 0.0 || settled >= 1.0 {
        return if settled >= 1.0 { 0.0 } else { chance_of_worse(mean, sd) };
    }
    let step = MAX_SCORE / f64::from(STEPS);
    let at = |index: i32| {
        let score = f64::from(index) * step;
        normal_density(score) * chance_of_worse(mean + moves * score, left)
    };
    step * (-STEPS..=STEPS).map(at).sum::<f64>()
}
