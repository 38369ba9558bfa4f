//! The verdict that an interval for a difference allows.

use schemars::JsonSchema;
use serde::Serialize;

use super::interval::Interval;

/// Verdict on one candidate against another, from an interval for their difference.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub enum Verdict {
    /// Better: the interval lies above zero.
    #[serde(rename = "ahead")]
    Better,
    /// Worse: the interval lies below zero.
    #[serde(rename = "behind")]
    Worse,
    /// Equivalent: the interval contains zero and lies within the margin on both sides.
    #[serde(rename = "level")]
    Equivalent,
    /// Inconclusive: none of these.
    #[serde(rename = "open")]
    Inconclusive,
}

impl Verdict {
    /// Verdict from the interval of a difference. Inconclusive without an interval or with an infinite one.
    ///
    /// ```
    /// use sim::stats::{Interval, Verdict};
    /// let verdict = |low, high| Verdict::from_interval(Some(Interval { low, high }), 0.5);
    /// assert_eq!(verdict(0.1, 2.0), Verdict::Better);
    /// assert_eq!(verdict(-0.2, 0.4), Verdict::Equivalent);
    /// assert_eq!(verdict(-0.2, 0.6), Verdict::Inconclusive);
    /// ```
    pub fn from_interval(difference: Option<Interval>, margin: f64) -> Self {
        match difference {
            Some(Interval { low, high }) if low > 0.0 && high.is_finite() => Self::Better,
            Some(Interval { low, high }) if high < 0.0 && low.is_finite() => Self::Worse,
            Some(Interval { low, high }) if low >= -margin && high <= margin => Self::Equivalent,
            _ => Self::Inconclusive,
        }
    }

    /// The same verdict from the other side.
    #[must_use]
    pub fn reversed(self) -> Self {
        match self {
            Self::Better => Self::Worse,
            Self::Worse => Self::Better,
            same => same,
        }
    }
}
