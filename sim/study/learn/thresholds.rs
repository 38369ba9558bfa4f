//! From how many bites, casts and sessions on something is said. Each limit follows from a stated precision.

/// Level of all intervals.
pub(super) const LEVEL: f64 = 0.95;

/// Fewest bites for a rate or a median.
///
/// The logarithm of a rate from d bites has a standard error of 1/√d; with 8 bites the rate is known within a factor of
/// two either way, at 95 %: exp(1.96/√8) = 2.0.
pub const MIN_BITES: u64 = 8;

/// Fewest bites for a recast interval.
///
/// It depends on whether the hazard of a bite falls. The logarithm of a Weibull shape from d bites has a standard error
/// of about 0.78/√d (√6/π); with 19 bites a shape of 0.7, at which recasting pays, differs from 1, at which it never
/// does, at 95 %: 1.96 · 0.78/√19 = 0.35 = −ln 0.7.
pub const MIN_BITES_FOR_RECAST: u64 = 19;

/// Fewest casts that must still be waiting at a time for anything to be said of it: as many as bites for a rate.
pub(super) const MIN_WAITING: usize = MIN_BITES as usize;

/// Fewest sessions for a range that includes how sessions differ. With two, a bootstrap has only three different
/// samples; five is the fewest with more than a hundred.
pub(super) const MIN_SESSIONS: usize = 5;

/// Share of the best rate that counts as just as good.
pub(super) const NEAR_BEST: f64 = 0.98;
