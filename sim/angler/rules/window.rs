//! Time windows: from when until when a condition holds.

/// The time window in which a condition holds if nothing more is perceived [s]; the end is excluded.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TimeWindow {
    /// Start, from the start of the session [s].
    pub from_s: f64,
    /// End [s].
    pub until_s: f64,
}

/// Times closer than this are treated as equal [s]: the clock of a session counts whole microseconds.
pub(super) const SAME_S: f64 = 1e-6;

impl TimeWindow {
    /// Never.
    pub const NEVER: Self = Self { from_s: f64::INFINITY, until_s: f64::NEG_INFINITY };
    /// Always.
    pub const ALWAYS: Self = Self { from_s: f64::NEG_INFINITY, until_s: f64::INFINITY };

    /// From a time on.
    #[must_use]
    pub fn from(from_s: f64) -> Self {
        Self { from_s, ..Self::ALWAYS }
    }

    /// Until a time.
    #[must_use]
    pub fn until(until_s: f64) -> Self {
        Self { until_s, ..Self::ALWAYS }
    }

    /// The time in which both hold.
    #[must_use]
    pub fn intersection(self, other: Self) -> Self {
        Self { from_s: self.from_s.max(other.from_s), until_s: self.until_s.min(other.until_s) }
    }

    /// Whether a time is in the window.
    #[must_use]
    pub fn contains(self, now_s: f64) -> bool {
        self.from_s <= now_s + SAME_S && now_s + SAME_S < self.until_s
    }
}
