//! Simulated time, in whole microseconds since the start of a session.

/// A point in simulated time, in whole microseconds [µs].
///
/// With whole numbers equal times are exactly equal: ten steps of thirty seconds end at the same time as one step of
/// three hundred seconds.
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
    /// A time that no session reaches.
    pub const NEVER: Self = Self(i64::MAX as u64);

    /// The time `seconds` after the start [s], rounded to the nearest microsecond.
    ///
    /// A negative number and NaN give the start; infinity gives [`Time::NEVER`].
    #[inline]
    #[must_use]
    pub fn from_seconds(seconds: f64) -> Self {
        // For numbers that are not negative, adding one half and truncating rounds; the cast saturates. Signed
        // integers convert in one instruction, unsigned integers do not.
        Self(((seconds * 1e6 + 0.5) as i64).max(0) as u64)
    }

    /// Seconds since the start [s].
    #[inline]
    #[must_use]
    pub fn seconds(self) -> f64 {
        self.0 as i64 as f64 * 1e-6
    }

    /// The time `microseconds` after the start [µs].
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

    /// The time `seconds` later [s].
    #[inline]
    #[must_use]
    pub fn after(self, seconds: f64) -> Self {
        Self((self.0 + Self::from_seconds(seconds).0).min(Self::NEVER.0))
    }

    /// Seconds from `earlier` to this time; zero if `earlier` is in fact later [s].
    #[inline]
    #[must_use]
    pub fn seconds_since(self, earlier: Self) -> f64 {
        (self.0 as i64 - earlier.0 as i64).max(0) as f64 * 1e-6
    }
}
