//! Placing in a field: the greatest of several, and how many of them are greater.

use statrs::function::gamma::ln_gamma;
use std::f64::consts::PI;

/// Scores of the standard normal beyond which nothing is left to add up.
const REACH: f64 = 9.0;

fn density(z: f64) -> f64 {
    (-0.5 * z * z).exp() / (2.0 * PI).sqrt()
}

fn below(z: f64) -> f64 {
    0.5 * statrs::function::erf::erfc(-z / std::f64::consts::SQRT_2)
}

/// The trapezoidal rule over the whole of the normal; all but exact for what is smooth.
fn over_normal(steps: u32, part: impl Fn(f64) -> f64) -> f64 {
    let step = 2.0 * REACH / f64::from(steps);
    (0..=steps).map(|k| step * part(f64::from(k) * step - REACH)).sum()
}

/// The mean of the greatest of `n` values that share what they have in common.
///
/// Each value is `value_of(r g + √(1 − r²) z)`, with g one standard normal for all and z one of its own; r² is the
/// correlation of any two scores.
///
/// - **Source** E max = ∫ x n φ(x) Φ(x)ⁿ⁻¹ dx; Harter 1961 tabulates it for normal values, Clark 1961 for two that
///   are correlated.
/// - **Checked by** V-58.
///
/// # Panics
///
/// If `n` is nought or `r` is not within −1 to 1.
#[must_use]
pub fn expected_greatest(n: u32, r: f64, value_of: impl Fn(f64) -> f64) -> f64 {
    assert!(n > 0, "the greatest of none is nothing");
    assert!((-1.0..=1.0).contains(&r), "a correlation lies within −1 to 1, not at {r}");
    let own = (1.0 - r * r).sqrt();
    let given = |g: f64| {
        over_normal(450, |z| {
            let greatest = f64::from(n) * density(z) * below(z).powi(n as i32 - 1);
            if greatest > 0.0 { greatest * value_of(r * g + own * z) } else { 0.0 }
        })
    };
    if r.abs() > 0.0 { over_normal(72, |g| density(g) * given(g)) } else { given(0.0) }
}

/// The chance that fewer than `places` of `n` rivals are ahead, where each is behind with chance `p` by itself.
///
/// Σ_{k < places} C(n, k) (1 − p)ᵏ pⁿ⁻ᵏ
///
/// - **Checked by** V-59 (section wins), V-60 (framing).
#[must_use]
pub fn chance_to_place(n: u32, places: u32, p: f64) -> f64 {
    if places > n {
        return 1.0;
    }
    let p = p.clamp(0.0, 1.0);
    let ln_factorial = |k: u32| ln_gamma(f64::from(k) + 1.0);
    let ahead = |k: u32| {
        let ways = (ln_factorial(n) - ln_factorial(k) - ln_factorial(n - k)).exp();
        ways * (1.0 - p).powi(k as i32) * p.powi((n - k) as i32)
    };
    (0..places).map(ahead).sum::<f64>().min(1.0)
}

/// The chance that a value with this score lies above a rival's whose score is r g + √(1 − r²) z, given g.
///
/// - **Holds for** |r| below one.
#[must_use]
pub fn chance_above(score: f64, g: f64, r: f64) -> f64 {
    below((score - r * g) / (1.0 - r * r).sqrt())
}

/// The correlation of two normal scores whose rank correlation (Spearman) is ρ: 2 sin(π ρ / 6).
///
/// - **Source** Pearson 1907.
/// - **Checked by** V-60.
#[must_use]
pub fn score_correlation(rank_correlation: f64) -> f64 {
    2.0 * (PI * rank_correlation / 6.0).sin()
}

/// The unit normal loss: the mean by which a standard normal exceeds `z`, φ(z) − z (1 − Φ(z)).
///
/// - **Checked by** V-61.
#[must_use]
pub fn unit_normal_loss(z: f64) -> f64 {
    density(z) - z * below(-z)
}

/// What is lost on average by taking the better of two for good, where their difference is known only as `mean`
/// with standard error `se`: se L(|mean|/se), in the unit of both. It is what perfect knowledge would be worth.
///
/// - **Source** Raiffa & Schlaifer 1961.
/// - **Checked by** V-61.
#[must_use]
pub fn expected_loss_of_choice(mean: f64, se: f64) -> f64 {
    if se > 0.0 { se * unit_normal_loss(mean.abs() / se) } else { 0.0 }
}
