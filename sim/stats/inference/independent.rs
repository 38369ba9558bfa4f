//! Comparison of two independent samples, each from days of its own.

use super::interval::{Interval, Proportion, t_quantile_between, wilson_interval};
use crate::numerics::{exp, ln, square};
use crate::stats::describe::Moments;

/// Difference of the means of two independent samples with unequal variances.
///
/// se² = s²(a)/n + s²(b)/m, with ν = se⁴ / ((s²(a)/n)²/(n − 1) + (s²(b)/m)²/(m − 1)) degrees of freedom.
///
/// - **Source** Welch 1947; Satterthwaite 1946.
/// - **Checked by** V-330 (NIST, Student's sleep data), V-331 (coverage).
///
/// ```
/// use sim::stats::{Moments, Welch};
/// let sample = |values_g: [i64; 3]| {
///     let mut moments_g = Moments::default();
///     values_g.into_iter().for_each(|value_g| moments_g.add(value_g));
///     moments_g
/// };
/// let (summer, winter) = (sample([9_000, 7_000, 8_000]), sample([3_000, 2_000, 1_000]));
/// let welch = Welch::new(&summer, &winter).expect("two values each");
/// assert_eq!((welch.difference, welch.degrees_of_freedom.round()), (6_000.0, 4.0));
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Welch {
    /// Mean of the first minus mean of the second.
    pub difference: f64,
    /// Standard error of the difference.
    pub se: f64,
    /// Degrees of freedom, no whole number.
    pub degrees_of_freedom: f64,
}

impl Welch {
    /// From the moments of both samples. `None` if either has fewer than two values.
    pub fn new(a: &Moments, b: &Moments) -> Option<Self> {
        let difference = a.mean()? - b.mean()?;
        let (se, degrees_of_freedom) = satterthwaite((a.se()?, a.n()), (b.se()?, b.n()));
        Some(Self { difference, se, degrees_of_freedom })
    }

    /// Interval for the difference of the means.
    ///
    /// # Panics
    ///
    /// If `level` is not between 0 and 1.
    pub fn interval(&self, level: f64) -> Interval {
        let half = t_quantile_between(level, self.degrees_of_freedom) * self.se;
        Interval { low: self.difference - half, high: self.difference + half }
    }
}

/// Probability that a value of one sample exceeds a value of another; equal values count half.
///
/// θ = Σᵢⱼ (1(aᵢ > bⱼ) + ½ 1(aᵢ = bⱼ)) / (n m)
///
/// The standard error comes from the placements, the share of the other sample below each value: se² = var(of a)/n +
/// var(of b)/m, with the degrees of freedom of [`Welch`]. The algorithm sorts, so it takes n log n steps.
///
/// - **Source** Mann & Whitney 1947; Brunner & Munzel 2000 for error and degrees of freedom; Newcombe 2006 (Statistics in
///   Medicine 25:559) for the logit scale of the interval.
/// - **Checked by** V-332 (Brunner and Munzel's pain scores, plain counting, coverage).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MannWhitney {
    /// The probability.
    pub share: f64,
    /// Its standard error.
    pub se: f64,
    /// Degrees of freedom of the standard error.
    pub degrees_of_freedom: f64,
    /// Number of values in the smaller sample.
    smaller: u64,
}

impl MannWhitney {
    /// From the values of both samples. `None` if either has fewer than two.
    pub fn new(a: &[u32], b: &[u32]) -> Option<Self> {
        let of_a = Placements::new(a, b)?;
        let of_b = Placements::new(b, a)?;
        let (n, m) = (a.len() as u64, b.len() as u64);
        let (se, degrees_of_freedom) = satterthwaite((of_a.se, n), (of_b.se, m));
        Some(Self { share: of_a.mean, se, degrees_of_freedom, smaller: n.min(m) })
    }

    /// The probability with its interval. If all pairs point the same way, it is Wilson's interval for the smaller sample.
    ///
    /// # Panics
    ///
    /// If `level` is not between 0 and 1.
    pub fn proportion(&self, level: f64) -> Proportion {
        let logit_slope = self.share * (1.0 - self.share);
        let whole = Interval { low: 0.0, high: 1.0 };
        let interval = if logit_slope > 0.0 && self.se > 0.0 {
            let logit = ln(self.share / (1.0 - self.share));
            let half = t_quantile_between(level, self.degrees_of_freedom) * self.se / logit_slope;
            let inverse = |logit: f64| 1.0 / (1.0 + exp(-logit));
            Interval { low: inverse(logit - half), high: inverse(logit + half) }
        } else {
            let wins = self.share * self.smaller as f64;
            wilson_interval(wins, self.smaller, level).unwrap_or(whole)
        };
        Proportion { estimate: self.share, interval }
    }
}

/// For each value of a sample, the share of another sample below it.
struct Placements {
    mean: f64,
    /// Standard error of the mean.
    se: f64,
}

impl Placements {
    /// Mean and error of the placements of `values` among `others`. `None` for fewer than two values.
    fn new(values: &[u32], others: &[u32]) -> Option<Self> {
        if values.len() < 2 || others.is_empty() {
            return None;
        }
        let mut sorted = others.to_vec();
        sorted.sort_unstable();
        // Counted in halves, so that ties stay whole numbers: each lower value counts 2, each equal value 1.
        let halves = |value: u32| {
            let below = sorted.partition_point(|&other| other < value);
            let up_to = sorted.partition_point(|&other| other <= value);
            (below + up_to) as i64
        };
        let mut moments = Moments::default();
        values.iter().for_each(|&value| moments.add(halves(value)));
        let all_halves = 2.0 * sorted.len() as f64;
        Some(Self { mean: moments.mean()? / all_halves, se: moments.se()? / all_halves })
    }
}

/// Standard error of the difference of two independent means and its degrees of freedom, from the error of each mean and its
/// number of values, two or more.
fn satterthwaite((se_a, n): (f64, u64), (se_b, m): (f64, u64)) -> (f64, f64) {
    let (variance_a, variance_b) = (square(se_a), square(se_b));
    let sum = variance_a + variance_b;
    let freedom = |n: u64| (n - 1) as f64;
    let degrees_of_freedom = if sum > 0.0 {
        square(sum) / (square(variance_a) / freedom(n) + square(variance_b) / freedom(m))
    } else {
        freedom(n) + freedom(m)
    };
    (sum.sqrt(), degrees_of_freedom)
}
