//! Whole microseconds since the start of a session.

/// A moment of simulated time, counted in whole microseconds [µs].
///
/// Whole numbers make equal moments equal: a schedule that adds thirty seconds ten times meets one
/// that adds three hundred once.
///
/// ```
/// use sim::engine::Time;
/// let opens = Time::from_seconds(42.5);
/// assert_eq!(opens.after(0.5), Time::from_seconds(43.0));
/// assert!((opens.seconds_since(Time::ZERO) - 42.5).abs() < 1e-12);
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Time(u64);

impl Time {
    /// The start of the session.
    pub const ZERO: Self = Self(0);
    /// A moment that no session reaches.
    pub const NEVER: Self = Self(i64::MAX as u64);

    /// The moment `seconds` after the start [s], rounded to the nearest microsecond.
    ///
    /// Negative and not-a-number become the start; infinity becomes [`Time::NEVER`].
    #[inline]
    #[must_use]
    pub fn from_seconds(seconds: f64) -> Self {
        // Adding a half and cutting off is rounding for what is not negative, and the cast saturates.
        // Signed words convert in one instruction, unsigned ones do not.
        Self(((seconds * 1e6 + 0.5) as i64).max(0) as u64)
    }

    /// Seconds since the start [s].
    #[inline]
    #[must_use]
    pub fn seconds(self) -> f64 {
        self.0 as i64 as f64 * 1e-6
    }

    /// The moment a number of microseconds after the start [µs].
    #[inline]
    #[must_use]
    pub fn from_microseconds(microseconds: u64) -> Self {
        Self(microseconds.min(Self::NEVER.0))
    }

    /// Microseconds since the start [µs].
    #[inline]
    #[must_use]
    pub fn microseconds(self) -> u64 {
        self.0
    }

    /// The moment `seconds` later [s].
    #[inline]
    #[must_use]
    pub fn after(self, seconds: f64) -> Self {
        Self((self.0 + Self::from_seconds(seconds).0).min(Self::NEVER.0))
    }

    /// Seconds from `earlier` to this moment, zero if it is not earlier [s].
    #[inline]
    #[must_use]
    pub fn seconds_since(self, earlier: Self) -> f64 {
        (self.0 as i64 - earlier.0 as i64).max(0) as f64 * 1e-6
    }
}
