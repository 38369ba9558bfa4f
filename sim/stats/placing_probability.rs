//! Placing probabilities: the maximum of several values, a place among rivals, and the cost of a wrong choice.

use std::f64::consts::PI;

use crate::numerics::{exp, ln_gamma, normal_cumulative, normal_density, powi, sin};

/// Normal scores are integrated from −`MAX_SCORE` to `MAX_SCORE`; beyond, the density is negligible.
const MAX_SCORE: f64 = 9.0;

/// Integral over the normal scores by the trapezoidal rule; nearly exact for smooth functions.
fn integral(steps: u32, integrand: impl Fn(f64) -> f64) -> f64 {
    let step = 2.0 * MAX_SCORE / f64::from(steps);
    (0..=steps).map(|k| step * integrand(f64::from(k) * step - MAX_SCORE)).sum()
}

/// Mean of the maximum of `n` equally correlated values.
///
/// Each value is `value_of(r g + √(1 − r²) z)`. g is a standard normal common to all values, z is each value's own. r²
/// is the correlation of any two scores.
///
/// - **Source** E max = ∫ x n φ(x) Φ(x)ⁿ⁻¹ dx; Harter 1961 tabulates it for normal values, Clark 1961 for two
///   correlated values.
/// - **Checked by** V-58.
///
/// # Panics
///
/// If `n` is zero or `r` is not within −1 to 1.
pub fn expected_maximum(n: u32, r: f64, value_of: impl Fn(f64) -> f64) -> f64 {
    assert!(n > 0, "a maximum needs at least one value");
    assert!((-1.0..=1.0).contains(&r), "a correlation lies within −1 to 1; {r} does not");
    let own_weight = (1.0 - r * r).sqrt();
    let mean_given = |g: f64| {
        integral(450, |z| {
            let maximum_density =
                f64::from(n) * normal_density(z) * powi(normal_cumulative(z), n as i32 - 1);
            if maximum_density > 0.0 {
                maximum_density * value_of(r * g + own_weight * z)
            } else {
                0.0
            }
        })
    };
    if r.abs() > 0.0 {
        integral(72, |g| normal_density(g) * mean_given(g))
    } else {
        mean_given(0.0)
    }
}

/// Probability that fewer than `places` of `n` rivals are ahead. Each rival is behind with probability `p`,
/// independently.
///
/// Σ_{k < places} C(n, k) (1 − p)ᵏ pⁿ⁻ᵏ
///
/// - **Checked by** V-59 (section wins), V-60 (framing).
pub fn placing_probability(n: u32, places: u32, p: f64) -> f64 {
    if places > n {
        return 1.0;
    }
    let p = p.clamp(0.0, 1.0);
    let ln_factorial = |k: u32| ln_gamma(f64::from(k) + 1.0);
    let probability = |k: u32| {
        let combinations = exp(ln_factorial(n) - ln_factorial(k) - ln_factorial(n - k));
        combinations * powi(1.0 - p, k as i32) * powi(p, (n - k) as i32)
    };
    (0..places).map(probability).sum::<f64>().min(1.0)
}

/// Probability that a score exceeds a rival's score r g + √(1 − r²) z, given g.
///
/// - **Holds for** |r| below 1.
pub fn probability_above(score: f64, g: f64, r: f64) -> f64 {
    normal_cumulative((score - r * g) / (1.0 - r * r).sqrt())
}

/// Correlation of two normal scores from their rank correlation (Spearman's ρ): 2 sin(π ρ / 6).
///
/// - **Source** Pearson 1907.
/// - **Checked by** V-60.
pub fn normal_score_correlation(rank_correlation: f64) -> f64 {
    2.0 * sin(PI * rank_correlation / 6.0)
}

/// Unit normal loss: the mean amount by which a standard normal exceeds `z`, φ(z) − z (1 − Φ(z)).
///
/// - **Checked by** V-61.
pub fn unit_normal_loss(z: f64) -> f64 {
    normal_density(z) - z * normal_cumulative(-z)
}

/// Expected loss from choosing the better of two when their difference is known only as `mean` with standard error
/// `se`: se L(|mean|/se), in the unit of both. It is the value of perfect information.
///
/// - **Source** Raiffa & Schlaifer 1961.
/// - **Checked by** V-61.
pub fn expected_loss_of_choice(mean: f64, se: f64) -> f64 {
    if se > 0.0 { se * unit_normal_loss(mean.abs() / se) } else { 0.0 }
}
