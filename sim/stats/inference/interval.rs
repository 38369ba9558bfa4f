//! Intervals for a mean and for a proportion.

use statrs::distribution::{ContinuousCDF, StudentsT};

use crate::numerics::{cube, normal_quantile, powi};

/// An interval, in the unit of the data.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

impl Interval {
    /// Whether the interval contains a value. Both ends count as inside.
    pub fn contains(&self, value: f64) -> bool {
        (self.low..=self.high).contains(&value)
    }

    /// Wilson's interval for a share `p` of `n` trials, which need not be whole, for the normal quantile `z`.
    pub(super) fn wilson(p: f64, n: f64, z: f64) -> Self {
        let shrink = 1.0 + z * z / n;
        let centre = (p + z * z / (2.0 * n)) / shrink;
        let half = z / shrink * (p * (1.0 - p) / n + z * z / (4.0 * n * n)).sqrt();
        Self { low: (centre - half).max(0.0), high: (centre + half).min(1.0) }
    }
}

/// A proportion with its interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proportion {
    /// The estimate, 0 to 1.
    pub estimate: f64,
    /// Interval of the proportion.
    pub interval: Interval,
}

/// From this many degrees of freedom on, t is computed from the normal quantile with corrections.
const MIN_NU_FOR_SERIES: f64 = 1000.0;

/// Two-sided quantile of the standard normal: |z| stays below it with probability `level`.
pub(in crate::stats) fn z_quantile(level: f64) -> f64 {
    assert!(level > 0.0 && level < 1.0, "a level lies between 0 and 1; {level} does not");
    normal_quantile(0.5 + 0.5 * level)
}

/// Two-sided quantile of Student's t: |t| stays below it with probability `level`.
///
/// Inverting the distribution loses digits when there are many degrees of freedom ν (6 in 10⁵ at ν = 10⁶). From
/// ν = 1000 on, a series is used instead:
///
/// t = z + (z³ + z)/4ν + (5z⁵ + 16z³ + 3z)/96ν² + (3z⁷ + 19z⁵ + 17z³ − 15z)/384ν³
///
/// - **Source** Abramowitz & Stegun 1964, 26.7.5.
/// - **Checked by** V-46 (tables of t).
///
/// # Panics
///
/// If `level` is not between 0 and 1 or there are no degrees of freedom.
pub fn t_quantile(level: f64, degrees_of_freedom: u64) -> f64 {
    t_quantile_between(level, degrees_of_freedom as f64)
}

/// The same quantile where the degrees of freedom are no whole number.
pub(super) fn t_quantile_between(level: f64, nu: f64) -> f64 {
    let z = z_quantile(level);
    if nu < MIN_NU_FOR_SERIES {
        return StudentsT::new(0.0, 1.0, nu)
            .expect("t needs at least one degree of freedom")
            .inverse_cdf(0.5 + 0.5 * level);
    }
    let (z3, z5, z7) = (cube(z), powi(z, 5), powi(z, 7));
    z + (z3 + z) / (4.0 * nu)
        + (5.0 * z5 + 16.0 * z3 + 3.0 * z) / (96.0 * nu * nu)
        + (3.0 * z7 + 19.0 * z5 + 17.0 * z3 - 15.0 * z) / (384.0 * nu * nu * nu)
}

/// Interval for the mean of `n` independent values, from their mean and its standard error. `None` for fewer than two.
///
/// mean ± t · se with n − 1 degrees of freedom.
///
/// - **Checked by** V-47 (Student's sleep data).
pub fn mean_interval(mean: f64, se: f64, n: u64, level: f64) -> Option<Interval> {
    (n > 1).then(|| {
        let half = t_quantile(level, n - 1) * se;
        Interval { low: mean - half, high: mean + half }
    })
}

/// Wilson's score interval for a proportion, from `successes` in `n` trials. `None` without trials.
///
/// (p + z²/2n ± z √(p(1−p)/n + z²/4n²)) / (1 + z²/n)
///
/// `successes` may be a multiple of a half, as when ties count half.
///
/// - **Source** Wilson 1927; Newcombe 1998 (Statistics in Medicine 17:857), method 3.
/// - **Checked by** V-45 (Newcombe's Table I).
///
/// # Panics
///
/// If `level` is not between 0 and 1.
pub fn wilson_interval(successes: f64, n: u64, level: f64) -> Option<Interval> {
    let z = z_quantile(level);
    (n > 0).then(|| Interval::wilson(successes / n as f64, n as f64, z))
}
