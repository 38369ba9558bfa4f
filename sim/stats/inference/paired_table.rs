//! Difference of two proportions, independent or from the same days.

use super::interval::{Interval, Proportion, wilson_interval};

/// Newcombe's interval for the difference of two proportions, from their own intervals and their correlation φ.
///
/// The interval for θ = p₁ − p₂ runs from θ − √(δ₁² − 2φ δ₁ε₂ + ε₂²) to θ + √(ε₁² − 2φ ε₁δ₂ + δ₂²). δ is the distance
/// from a proportion down to its lower end, ε the one up to its upper end. φ is zero for independent samples.
///
/// - **Source** Newcombe 1998 (Statistics in Medicine 17:873, method 10, and 17:2635 for pairs).
/// - **Checked by** V-51.
pub fn newcombe_interval(first: Proportion, second: Proportion, phi: f64) -> Interval {
    let down = |proportion: Proportion| proportion.estimate - proportion.interval.low;
    let up = |proportion: Proportion| proportion.interval.high - proportion.estimate;
    let half_width = |x: f64, y: f64| (x * x - 2.0 * phi * x * y + y * y).max(0.0).sqrt();
    let difference = first.estimate - second.estimate;
    Interval {
        low: (difference - half_width(down(first), up(second))).max(-1.0),
        high: (difference + half_width(up(first), down(second))).min(1.0),
    }
}

/// Numbers of days on which two events happened: both, one alone, or neither.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct PairedTable {
    /// Days with both.
    pub both: u64,
    /// Days with the first alone.
    pub first_alone: u64,
    /// Days with the second alone.
    pub second_alone: u64,
    /// Days with neither.
    pub neither: u64,
}

impl PairedTable {
    /// Adds one day.
    pub fn add(&mut self, first: bool, second: bool) {
        match (first, second) {
            (true, true) => self.both += 1,
            (true, false) => self.first_alone += 1,
            (false, true) => self.second_alone += 1,
            (false, false) => self.neither += 1,
        }
    }

    /// Interval for the proportion of days with the first event minus that with the second. `None` without days.
    ///
    /// Newcombe's method on Wilson's intervals, with φ of the table. If φ's numerator is positive, half the number of
    /// days is subtracted from it.
    ///
    /// - **Source** Newcombe 1998 (Statistics in Medicine 17:2635), method 10.
    /// - **Checked by** V-51.
    pub fn difference(&self, level: f64) -> Option<Interval> {
        let days = self.both + self.first_alone + self.second_alone + self.neither;
        let proportion = |count: u64| {
            let interval = wilson_interval(count as f64, days, level)?;
            Some(Proportion { estimate: count as f64 / days as f64, interval })
        };
        let (first, second) = (self.both + self.first_alone, self.both + self.second_alone);
        Some(newcombe_interval(
            proportion(first)?,
            proportion(second)?,
            self.phi(first, second, days),
        ))
    }

    /// The correlation φ, with the correction for continuity.
    fn phi(&self, first: u64, second: u64, days: u64) -> f64 {
        let margins = [first, days - first, second, days - second].map(|count| count as f64);
        let product: f64 = margins.iter().product();
        let determinant = self.both as f64 * self.neither as f64
            - self.first_alone as f64 * self.second_alone as f64;
        let corrected = if determinant > 0.0 {
            (determinant - 0.5 * days as f64).max(0.0)
        } else {
            determinant
        };
        if product > 0.0 { corrected / product.sqrt() } else { 0.0 }
    }
}
