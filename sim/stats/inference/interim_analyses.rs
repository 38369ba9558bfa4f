//! Interim analyses: at which numbers of days a running study is tested, and at which level.

/// Numbers of values at which a running study is analysed: a first number, doubled each time up to a limit.
///
/// ```
/// let analyses = sim::stats::InterimAnalyses::new(200, 1000);
/// assert_eq!(analyses.sample_sizes().collect::<Vec<_>>(), [200, 400, 800, 1000]);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct InterimAnalyses {
    first: u32,
    limit: u32,
}

impl InterimAnalyses {
    /// Analyses from `first` values on; the last one is at `limit`.
    ///
    /// # Panics
    ///
    /// If `first` is below 2 or above `limit`.
    pub fn new(first: u32, limit: u32) -> Self {
        assert!(first >= 2, "an interval needs two values or more, not {first}");
        assert!(first <= limit, "the first analysis, at {first}, is beyond the limit, {limit}");
        Self { first, limit }
    }

    /// The number of values at each analysis, in order.
    pub fn sample_sizes(self) -> impl Iterator<Item = u32> {
        let double = move |n: &u32| (*n < self.limit).then(|| n.saturating_mul(2).min(self.limit));
        std::iter::successors(Some(self.first), double)
    }

    /// The largest possible number of analyses.
    pub fn count(self) -> u32 {
        self.sample_sizes().zip(1..).last().map_or(0, |(_, count)| count)
    }
}

/// Level of a single interval such that all `looks` × `pairs` intervals hold together with probability 1 − `error` or
/// more: 1 − error/(looks · pairs).
///
/// It does not matter how the intervals depend on each other.
///
/// - **Source** Bonferroni's inequality.
/// - **Checked by** V-56 (the effect of repeated testing), V-57 (verdicts between equal plans).
///
/// # Panics
///
/// If `error` is not between 0 and 1.
pub fn bonferroni_level(error: f64, analyses: u32, pairs: u32) -> f64 {
    assert!(error > 0.0 && error < 1.0, "an error lies between 0 and 1; {error} does not");
    1.0 - error / (f64::from(analyses.max(1)) * f64::from(pairs.max(1)))
}
