//! The verdict that an interval for a difference allows.

use serde::Serialize;

use super::interval::Interval;

/// Verdict on one candidate against another, from an interval for their difference.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Standing {
    /// Better: the interval lies above zero.
    Ahead,
    /// Worse: the interval lies below zero.
    Behind,
    /// Equivalent: the interval contains zero and lies within the margin on both sides.
    Level,
    /// Inconclusive: none of these.
    Open,
}

impl Standing {
    /// Verdict from the interval of a difference. Inconclusive without an interval or with an infinite one.
    ///
    /// ```
    /// use sim::stats::{Interval, Standing};
    /// let verdict = |low, high| Standing::of(Some(Interval { low, high }), 0.5);
    /// assert_eq!(verdict(0.1, 2.0), Standing::Ahead);
    /// assert_eq!(verdict(-0.2, 0.4), Standing::Level);
    /// assert_eq!(verdict(-0.2, 0.6), Standing::Open);
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

    /// The same verdict from the other side.
    #[must_use]
    pub fn turned(self) -> Self {
        match self {
            Self::Ahead => Self::Behind,
            Self::Behind => Self::Ahead,
            same => same,
        }
    }
}
