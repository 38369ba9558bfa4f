//! Differences of shares.

use super::interval::{Interval, wilson};
use super::separate::Share;

/// Newcombe's interval for the difference of two shares, from their own intervals and their correlation.
///
/// θ = p₁ − p₂, its ends at θ − √(δ₁² − 2φ δ₁ε₂ + ε₂²) and θ + √(ε₁² − 2φ ε₁δ₂ + δ₂²), where δ reaches from a
/// share down to its lower end and ε up to its upper end. For two independent samples φ is nought.
///
/// - **Source** Newcombe 1998 (Statistics in Medicine 17:873, method 10, and 17:2635 for pairs).
/// - **Checked by** V-51.
#[must_use]
pub fn square_and_add(one: Share, other: Share, phi: f64) -> Interval {
    let down = |of: Share| of.share - of.interval.low;
    let up = |of: Share| of.interval.high - of.share;
    let reach = |x: f64, y: f64| (x * x - 2.0 * phi * x * y + y * y).max(0.0).sqrt();
    let difference = one.share - other.share;
    Interval {
        low: (difference - reach(down(one), up(other))).max(-1.0),
        high: (difference + reach(up(one), down(other))).min(1.0),
    }
}

/// How often each of two things happened on the same days.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Together {
    /// Days of both.
    pub both: u64,
    /// Days of the first alone.
    pub first_alone: u64,
    /// Days of the second alone.
    pub second_alone: u64,
    /// Days of neither.
    pub neither: u64,
}

impl Together {
    /// Takes in one day.
    pub fn add(&mut self, first: bool, second: bool) {
        match (first, second) {
            (true, true) => self.both += 1,
            (true, false) => self.first_alone += 1,
            (false, true) => self.second_alone += 1,
            (false, false) => self.neither += 1,
        }
    }

    /// Interval for the share of days of the first less that of the second; none without days.
    ///
    /// Newcombe's square-and-add on Wilson's intervals, with φ of the table, its numerator lessened by half the
    /// days where it is above nought.
    ///
    /// - **Source** Newcombe 1998 (Statistics in Medicine 17:2635), method 10.
    /// - **Checked by** V-51.
    #[must_use]
    pub fn difference(&self, level: f64) -> Option<Interval> {
        let days = self.both + self.first_alone + self.second_alone + self.neither;
        let of = |count: u64| {
            let interval = wilson(count as f64, days, level)?;
            Some(Share { share: count as f64 / days as f64, interval })
        };
        let (first, second) = (self.both + self.first_alone, self.both + self.second_alone);
        Some(square_and_add(of(first)?, of(second)?, self.phi(first, second, days)))
    }

    fn phi(&self, first: u64, second: u64, days: u64) -> f64 {
        let margins = [first, days - first, second, days - second].map(|count| count as f64);
        let product: f64 = margins.iter().product();
        let across = self.both as f64 * self.neither as f64
            - self.first_alone as f64 * self.second_alone as f64;
        let lessened = if across > 0.0 { (across - 0.5 * days as f64).max(0.0) } else { across };
        if product > 0.0 { lessened / product.sqrt() } else { 0.0 }
    }
}
