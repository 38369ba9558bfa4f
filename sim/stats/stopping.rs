//! When to stop looking: looks at doubling numbers of days, the error split over them, and what an interval says.

use serde::Serialize;

use super::interval::Interval;

/// Numbers of values after which a running study is looked at: a first one, then twice as many each time, up to
/// a limit.
///
/// ```
/// let looks = sim::stats::Looks::new(200, 1000);
/// assert_eq!(looks.all().collect::<Vec<_>>(), [200, 400, 800, 1000]);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Looks {
    first: u32,
    limit: u32,
}

impl Looks {
    /// Looks from `first` on, the last at `limit`.
    ///
    /// # Panics
    ///
    /// If `first` is below 2 or above `limit`.
    #[must_use]
    pub fn new(first: u32, limit: u32) -> Self {
        assert!(first >= 2, "an interval needs two values, not {first}");
        assert!(first <= limit, "the first look, {first}, lies beyond the limit, {limit}");
        Self { first, limit }
    }

    /// All looks, in order.
    pub fn all(self) -> impl Iterator<Item = u32> {
        let double =
            move |at: &u32| (*at < self.limit).then(|| at.saturating_mul(2).min(self.limit));
        std::iter::successors(Some(self.first), double)
    }

    /// How many there are at most.
    #[must_use]
    pub fn count(self) -> u32 {
        self.all().zip(1..).last().map_or(0, |(_, count)| count)
    }
}

/// The level of each single interval, so that all of `looks` × `pairs` intervals hold at once with probability
/// 1 − `error` at least, however they depend on one another: 1 − error/(looks · pairs).
///
/// - **Source** Bonferroni's inequality.
/// - **Checked by** V-56 (what peeking does), V-57 (verdicts between equal plans).
///
/// # Panics
///
/// If `error` is not between 0 and 1.
#[must_use]
pub fn level_of_each(error: f64, looks: u32, pairs: u32) -> f64 {
    assert!(error > 0.0 && error < 1.0, "an error lies between 0 and 1, not at {error}");
    1.0 - error / (f64::from(looks.max(1)) * f64::from(pairs.max(1)))
}

/// How one thing stands to another, as far as an interval for their difference allows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Standing {
    /// The interval lies above nought.
    Ahead,
    /// The interval lies below nought.
    Behind,
    /// It holds nought and lies within the margin either way: practically equal.
    Level,
    /// None of these: not told apart.
    Open,
}

impl Standing {
    /// What the interval of a difference says; nothing is said without one.
    ///
    /// ```
    /// use sim::stats::{Interval, Standing};
    /// let says = |low, high| Standing::of(Some(Interval { low, high }), 0.5);
    /// assert_eq!(says(0.1, 2.0), Standing::Ahead);
    /// assert_eq!(says(-0.2, 0.4), Standing::Level);
    /// assert_eq!(says(-0.2, 0.6), Standing::Open);
    /// ```
    #[must_use]
    pub fn of(difference: Option<Interval>, margin: f64) -> Self {
        match difference {
            Some(Interval { low, high }) if low > 0.0 && high.is_finite() => Self::Ahead,
            Some(Interval { low, high }) if high < 0.0 && low.is_finite() => Self::Behind,
            Some(Interval { low, high }) if low >= -margin && high <= margin => Self::Level,
            _ => Self::Open,
        }
    }

    /// The same, seen from the other.
    #[must_use]
    pub fn turned(self) -> Self {
        match self {
            Self::Ahead => Self::Behind,
            Self::Behind => Self::Ahead,
            same => same,
        }
    }
}
