//! The result of learning from a log.

use schemars::JsonSchema;
use serde::Serialize;

use crate::study::stamp::Stamp;

/// Everything that a log alone says.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LearnResult {
    /// Name and version of the format.
    pub format: &'static str,
    /// Version, commit and seed; name and SHA-256 are those of the log.
    pub stamp: Stamp,
    /// Counts over the log.
    pub totals: LogTotals,
    /// By which columns the casts are grouped.
    pub grouped_by: Vec<&'static str>,
    /// Waits of all casts together.
    pub all: WaitGroup,
    /// Waits of each group, most casts first; empty if there is only one.
    pub groups: Vec<WaitGroup>,
    /// Whether the groups differ. `None` with fewer than two groups or too few bites.
    pub difference: Option<GroupDifference>,
    /// The time that a recast takes.
    pub recast_time: RecastTime,
    /// The recast interval that all casts support, then that of each group in the order of `groups`.
    pub recast: Vec<RecastAdvice>,
    /// Bites over the session.
    pub session: SessionTrend,
}

impl LearnResult {
    /// Name and version of the format.
    pub const FORMAT: &'static str = "shoalwise/learn/1";
}

/// Counts over the log.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct LogTotals {
    /// Number of sessions.
    pub sessions: u64,
    /// Number of casts, those still out included.
    pub casts: u64,
    /// Casts whose bait was still out when the log ended; they are left out of everything else.
    pub still_out: u64,
    /// Number of bites.
    pub bites: u64,
    /// Fish landed. `None` if the log does not say it of any bite.
    pub landed: Option<u64>,
    /// Bites of which the log does not say whether the fish was landed.
    pub landed_unknown: u64,
    /// Sum of the weights that are written down [kg].
    pub weight_kg: f64,
    /// Fish landed whose weight is written down.
    pub weighed: u64,
    /// Time from the first cast to the end of the last one, summed over sessions [s].
    pub fished_s: f64,
    /// To how many seconds times are written down [s].
    pub time_unit_s: f64,
}

/// A rate of bites with its 95 % interval, for each hour with a bait in the water.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BiteRate {
    /// Estimate [1/h].
    pub per_hour: f64,
    /// Lower end [1/h].
    pub low95: f64,
    /// Upper end [1/h].
    pub high95: f64,
}

/// Waits to a bite of some casts.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WaitGroup {
    /// Its name: line, bait and so on, or `all casts`.
    pub name: String,
    /// Number of casts.
    pub casts: u64,
    /// Number of bites.
    pub bites: u64,
    /// Number of sessions with such a cast.
    pub sessions: u64,
    /// The longest wait [s]. Beyond it nothing is known.
    pub longest_wait_s: f64,
    /// The longest wait that at least eight casts reached [s]; the longest of all with fewer casts.
    pub known_until_s: f64,
    /// Further bites needed before a rate or a median is given.
    pub more_bites_needed: u64,
    /// Bites for each hour with a bait in the water. `None` if there are too few bites.
    pub rate: Option<BiteRate>,
    /// Median wait to a bite [s]. `None` if there are too few bites, or if it is longer than `known_until_s`.
    pub median_s: Option<f64>,
    /// Ends of its 95 % interval [s]; an end is `None` if it is longer than `known_until_s`.
    pub median_low95_s: Option<f64>,
    /// Upper end [s].
    pub median_high95_s: Option<f64>,
    /// How casts had ended by `known_until_s`.
    pub ends: Vec<EndShare>,
    /// The share still waiting and the cumulative hazard, at each bite.
    pub curve: Vec<WaitPoint>,
    /// Bite rates by time since the cast. Empty if there are too few bites.
    pub hazard: Vec<HazardPiece>,
    /// Weibull fit. `None` if there are too few bites, or if no such curve fits.
    pub weibull: Option<FittedWeibull>,
    /// Weibull fit with a share of casts that never get a bite. `None` also if no such share fits better.
    pub never: Option<NeverShare>,
}

/// The share of casts that had ended in one way.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct EndShare {
    /// Bite, snag, robbed or moved.
    pub end: &'static str,
    /// How often.
    pub count: u64,
    /// Estimated share, casts wound in earlier taken into account.
    pub share: f64,
    /// Lower end of the 95 % interval. `None` if the share is 0 or 1 [share].
    pub low95: Option<f64>,
    /// Upper end [share].
    pub high95: Option<f64>,
}

/// The curve of waits at a bite.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WaitPoint {
    /// Wait [s].
    pub wait_s: f64,
    /// Casts still waiting just before.
    pub waiting: u64,
    /// Bites at this wait.
    pub bites: u64,
    /// Share still without a bite (Kaplan–Meier).
    pub share: f64,
    /// Lower end of its 95 % interval [share].
    pub low95: Option<f64>,
    /// Upper end of its 95 % interval [share].
    pub high95: Option<f64>,
    /// Bites to expect of a bait that is in the water all this time (Nelson–Aalen) [count].
    pub expected_bites: f64,
    /// Standard error of `expected_bites` [count].
    pub expected_bites_se: f64,
}

/// The bite rate in a stretch of the wait.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct HazardPiece {
    /// From this time after the cast [s] …
    pub from_s: f64,
    /// … to this one [s].
    pub to_s: f64,
    /// Bites in it.
    pub bites: u64,
    /// Time that baits spent in it, summed [s].
    pub exposure_s: f64,
    /// Rate, with a prior worth one bite at the mean rate of the group.
    pub rate: BiteRate,
}

/// A Weibull fit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct FittedWeibull {
    /// Shape; below 1 if a bite becomes less likely as the wait goes on [ratio].
    pub shape: f64,
    /// Standard error of the logarithm of the shape [ratio].
    pub se_ln_shape: f64,
    /// Scale [s].
    pub scale_s: f64,
    /// Standard error of the logarithm of the scale [ratio].
    pub se_ln_scale: f64,
    /// Log-likelihood [ratio].
    pub log_likelihood: f64,
}

/// A Weibull fit with a share of casts that never get a bite.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct NeverShare {
    /// Share of casts that never get a bite.
    pub share: f64,
    /// Lower end of its 95 % interval [share].
    pub low95: f64,
    /// Upper end of its 95 % interval [share].
    pub high95: f64,
    /// Chance that the fit would be this much better if in fact every cast got a bite at last.
    pub p_value: f64,
    /// Waits of the other casts.
    pub others: FittedWeibull,
}

/// Whether the groups differ in their waits (log-rank test).
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct GroupDifference {
    /// Chance of differences this large or larger in the whole log if the groups were alike.
    pub p_value: f64,
    /// Chi-square of the differences [ratio].
    pub chi_square: f64,
    /// Its degrees of freedom.
    pub degrees_of_freedom: u32,
    /// The same within sessions only. `None` if no session has bites while two groups were fished [share].
    pub p_value_within_sessions: Option<f64>,
}

/// The time that a recast takes, and that a bite takes in addition.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RecastTime {
    /// From winding in to the bait lying in the water again [s]. `None` if the log does not show it.
    pub recast_s: Option<f64>,
    /// Whether it was given rather than measured.
    pub is_given: bool,
    /// Number of recasts from which it was measured.
    pub recasts: u64,
    /// Further time that a bite takes [s]; zero if the log does not show it.
    pub bite_s: f64,
    /// Number of bites from which it was measured.
    pub bites: u64,
}

/// What a log supports about when to recast.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum RecastOutcome {
    /// There are too few bites to say.
    TooFewBites,
    /// The log does not show how long a recast takes.
    NoRecastTime,
    /// Recasting after `best_s` gives most bites.
    RecastAfter,
    /// Waiting as long as the log reaches gives as many bites as any shorter wait: there is no gain in recasting early.
    WaitOut,
}

/// The recast interval that some casts support.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RecastAdvice {
    /// The group, or `all casts`.
    pub name: String,
    /// What the waits say about recasting.
    pub outcome: RecastOutcome,
    /// Further bites needed before anything is said.
    pub more_bites_needed: u64,
    /// The longest wait that at least eight casts reached [s]; nothing is said beyond it.
    pub known_until_s: f64,
    /// The interval with most bites [s].
    pub best_s: Option<f64>,
    /// Bites for each hour of fishing at it [1/h].
    pub best_per_hour: Option<f64>,
    /// Shortest interval that gives at least 98 % of that [s].
    pub near_best_from_s: Option<f64>,
    /// Longest such interval [s].
    pub near_best_to_s: Option<f64>,
    /// Lower end of the 95 % range of the best interval over resampled sessions [s]. `None` with fewer than two sessions.
    pub best_low95_s: Option<f64>,
    /// Upper end [s].
    pub best_high95_s: Option<f64>,
    /// Share of the resampled logs in which there is no gain in recasting early.
    pub wait_out_share: Option<f64>,
    /// Whether there are enough sessions for that range to include how sessions differ.
    pub has_enough_sessions: bool,
    /// The best interval on the smooth fit with a share that never bites [s]. `None` if giving up never pays on it, if it
    /// lies beyond `known_until_s`, or without such a fit.
    pub smooth_best_s: Option<f64>,
    /// Shortest interval that gives at least 98 % of the best rate on that fit [s].
    pub smooth_near_from_s: Option<f64>,
    /// Longest such interval, at most `known_until_s` [s].
    pub smooth_near_to_s: Option<f64>,
    /// Bites per hour against the interval.
    pub curve: Vec<RecastPoint>,
}

/// Bites per hour of fishing at a recast interval.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RecastPoint {
    /// Interval [s].
    pub recast_s: f64,
    /// Bites for each hour of fishing, recasting included [1/h].
    pub bites_per_hour: f64,
}

/// Bites over the session.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SessionTrend {
    /// Bites in each hour since the first cast.
    pub hours: Vec<RateByHour>,
    /// Change of the bite rate in an hour, as a factor; below 1 if bites fall off. `None` if there are too few bites [ratio].
    pub factor_per_hour: Option<f64>,
    /// Lower end of its 95 % interval [ratio].
    pub factor_low95: Option<f64>,
    /// Upper end of its 95 % interval [ratio].
    pub factor_high95: Option<f64>,
    /// Fish landed for each hour of fishing, recasting included [1/h]. `None` if the log does not say which were landed.
    pub landed_per_hour: Option<f64>,
    /// Weight written down for each hour of fishing [kg/h].
    pub weight_kg_per_hour: f64,
}

/// Bites in one hour of the session, over all sessions.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RateByHour {
    /// The hour, counted from 1.
    pub hour: u32,
    /// Bites in it.
    pub bites: u64,
    /// Fish landed from these bites. `None` if the log does not say which were landed.
    pub landed: Option<u64>,
    /// Time with a bait in the water in it [s].
    pub exposure_s: f64,
    /// Bite rate. `None` if no bait was in the water.
    pub rate: Option<BiteRate>,
}
