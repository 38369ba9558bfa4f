//! Standards of evidence: standard scores with a stated bound, and agreement with printed digits.

use std::fmt::{self, Display, Formatter};

use proptest::test_runner::{Config as ProptestConfig, RngSeed};

/// Largest standard score that passes.
///
/// A true claim fails one statistical check in 16 000 by chance; all of them together (about sixty) fail in about
/// one of 250 choices of seeds. Seeds are fixed, and were chosen before the tests were first run.
pub(crate) const Z_BOUND: f64 = 4.0;

/// Settings of a property test: the same cases in every run, and no file written on failure.
pub(crate) fn the_same_cases() -> ProptestConfig {
    ProptestConfig {
        rng_seed: RngSeed::Fixed(1),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

/// Mean of a sample.
pub(crate) fn mean(sample: &[f64]) -> f64 {
    sample.iter().sum::<f64>() / sample.len() as f64
}

/// Standard error of the mean of independent values.
pub(crate) fn standard_error(sample: &[f64]) -> f64 {
    let (n, middle) = (sample.len() as f64, mean(sample));
    let squares: f64 = sample.iter().map(|x| (x - middle) * (x - middle)).sum();
    (squares / (n - 1.0) / n).sqrt()
}

/// Fails unless the mean of independent values lies within [`Z_BOUND`] standard errors of the truth; returns the standard score.
#[track_caller]
pub(crate) fn mean_is(what: &str, sample: &[f64], truth: f64) -> f64 {
    within_z(what, mean(sample), truth, standard_error(sample))
}

/// Fails unless an estimate lies within [`Z_BOUND`] of its own standard errors of the truth; returns the standard score.
#[track_caller]
pub(crate) fn within_z(what: &str, estimate: f64, truth: f64, standard_error: f64) -> f64 {
    let z = (estimate - truth) / standard_error;
    println!("{what}: {estimate:.5} against {truth:.5}, z = {z:+.2}");
    assert!(
        z.abs() < Z_BOUND,
        "{what}: {estimate} ± {standard_error} against {truth}, which is {z:+.1} standard errors off"
    );
    z
}

/// The standard score furthest from 0 of those that a test has found.
#[derive(Clone, Copy, Default)]
pub(crate) struct LargestScore(f64);

impl LargestScore {
    pub(crate) fn add(&mut self, z: f64) {
        if z.abs() > self.0.abs() {
            self.0 = z;
        }
    }
}

impl Display for LargestScore {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        write!(f, "largest z = {:+.1}", self.0)
    }
}

/// Fails unless a value agrees with a printed one to half a unit of its last decimal.
#[track_caller]
pub(crate) fn as_printed(what: &str, value: f64, printed: f64, decimals: i32) {
    as_printed_but_for(what, value, printed, decimals, 0.0);
}

/// The same, with an additional relative deviation for what the inputs of the printed value leave open.
#[track_caller]
pub(crate) fn as_printed_but_for(
    what: &str,
    value: f64,
    printed: f64,
    decimals: i32,
    relative: f64,
) {
    // Slightly more than half a unit, for values at the edge of rounding.
    let allowed = 0.500_001 * 10_f64.powi(-decimals) + relative * value.abs();
    assert!(
        (value - printed).abs() <= allowed,
        "{what}: {value} does not print as {printed} to {decimals} decimals"
    );
}

/// Fails unless a value agrees with the truth to a relative tolerance. Returns the deviation.
#[track_caller]
pub(crate) fn near(what: &str, value: f64, truth: f64, tolerance: f64) -> f64 {
    let deviation =
        if value.to_bits() == truth.to_bits() { 0.0 } else { (value - truth).abs() / truth.abs() };
    assert!(
        deviation <= tolerance,
        "{what}: {value} against {truth} deviates by {deviation:.2e}, allowed {tolerance:.0e}"
    );
    deviation
}

/// Integral of a function over an interval by the trapezoidal rule with `steps` steps.
pub(crate) fn integral(from: f64, to: f64, steps: u32, f: impl Fn(f64) -> f64) -> f64 {
    let step = (to - from) / f64::from(steps);
    let inner: f64 = (1..steps).map(|i| f(from + step * f64::from(i))).sum();
    step * (inner + 0.5 * (f(from) + f(to)))
}
