//! The result of one plan over all days, in the shape in which it is written as JSON.

use schemars::JsonSchema;
use serde::Serialize;

use crate::session::TimeUse;
use crate::stats::Interval;
use crate::study::estimate::{EndsOrNull, Estimate, UnknownsEstimate};

/// Mean, standard error and deciles over days [kg].
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WeightKg {
    /// Mean.
    pub mean: f64,
    /// Standard error of the mean; `None` for a single day.
    pub se: Option<f64>,
    /// First decile: one day in ten is below.
    pub p10: f64,
    /// Median.
    pub p50: f64,
    /// Ninth decile: one day in ten is above.
    pub p90: f64,
}

/// Days on a water whose fish one knows: the spread of weights that weather, stock and luck leave, with what nobody knows
/// about fish held at one value.
///
/// Deciles are those of all days, drawn towards the median by √(1 − share): the spread of a sum of two independent parts,
/// one of which is taken away.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct KnownWater {
    /// Share of the variance of a day's weight that comes from what nobody knows, single effects up to second order; the
    /// rest is days and luck.
    #[serde(flatten, with = "UnknownsEstimate")]
    pub unknowns_share: Estimate,
    /// First decile of weight on such a water [kg].
    pub p10_kg: f64,
    /// Ninth decile of weight on such a water [kg].
    pub p90_kg: f64,
}

impl KnownWater {
    /// From the deciles of all days and the share of variance that comes from what nobody knows.
    #[must_use]
    pub fn new(weight_kg: &WeightKg, unknowns_share: Estimate) -> Self {
        let of_all = Self { unknowns_share, p10_kg: 0.0, p90_kg: 0.0 };
        let drawn = |decile_kg: f64| of_all.drawn_towards(decile_kg, weight_kg.p50);
        let (p10_kg, p90_kg) = (drawn(weight_kg.p10), drawn(weight_kg.p90));
        Self { p10_kg, p90_kg, ..of_all }
    }

    /// A quantile of all days as it is on such a water, by the median of all days [kg].
    #[must_use]
    pub fn drawn_towards(&self, quantile_kg: f64, median_kg: f64) -> f64 {
        median_kg + (quantile_kg - median_kg) * (1.0 - self.unknowns_share.value).sqrt()
    }
}

/// 95 % intervals for the deciles of weight, from order statistics of the days [kg]; `None` if there are too few days.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct DecilesKg {
    /// Interval for the first decile [kg].
    #[serde(with = "EndsOrNull")]
    pub p10: Option<Interval>,
    /// Interval for the median [kg].
    #[serde(with = "EndsOrNull")]
    pub p50: Option<Interval>,
    /// Interval for the ninth decile [kg].
    #[serde(with = "EndsOrNull")]
    pub p90: Option<Interval>,
}

/// Mean and deciles of a count.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Count {
    /// Mean [count].
    pub mean: f64,
    /// First decile: one day in ten is below [count].
    pub p10: f64,
    /// Median [count].
    pub p50: f64,
    /// Ninth decile: one day in ten is above [count].
    pub p90: f64,
}

/// A mean without an interval.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct MeanCount {
    /// Mean over days [count].
    pub mean: f64,
}

/// Bait used, all baits together [kg].
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BaitKg {
    /// Mean over days.
    pub mean: f64,
    /// Ninth decile: one day in ten needs more.
    pub p90: f64,
}

/// Amount used of one bait [kg].
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BaitAmount {
    /// Name of the bait.
    pub bait: String,
    /// Mean over days [kg].
    pub mean: f64,
    /// Ninth decile: one day in ten needs more [kg].
    pub p90: f64,
}

/// Catch from one shoal.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ByShoal {
    /// Name of the shoal.
    pub shoal: String,
    /// Fish per day [count].
    pub fish_mean: f64,
    /// Weight per day [kg].
    pub weight_kg_mean: f64,
}

/// Catch in one hour of the session; the last one may be shorter.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ByHour {
    /// End of the hour, in minutes from the start of the session.
    pub until_minute: f64,
    /// Catch by shoal in this hour.
    pub by_shoal: Vec<ByShoal>,
}

/// How often one rule of a plan fired.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RuleFired {
    /// Name of the rule.
    pub rule: String,
    /// Mean number of times per day [count].
    pub mean: f64,
    /// Share of days on which it fired at least once.
    pub days_share: f64,
}

/// What happened in the swim, over all days.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SwimSummary {
    /// Mean number of fish feeding on the fished line while a bait was in the water [count].
    pub fish_on_line: f64,
    /// Mean number of fish up in the water over the fished line while a bait was in the water [count].
    pub fish_up: f64,
    /// Share of the mouthfuls taken from the hookbait's patch that were the hookbait [share].
    pub hookbait_share_of_mouthfuls: f64,
    /// Share of encounters with the hookbait that ended in a take.
    pub taken_share: f64,
    /// Share of the time with a bait in the water during which a hookbait could be taken.
    #[serde(rename = "hookbait_there_share")]
    pub hookbait_available_share: f64,
    /// Hours per session with a bait in the water.
    pub hours_in_water: f64,
    /// Bites per hour with a bait in the water.
    pub bites_per_hour_in_water: f64,
    /// Mean mass of a landed fish [kg]; zero if none was landed.
    pub fish_kg: f64,
    /// Fish scared away per session [count].
    pub scared: f64,
    /// Arrivals of fish at lines per session [count].
    pub arrived: f64,
    /// Snagged casts per session [count].
    pub snags: f64,
    /// Simulated events per session [count].
    pub events: f64,
}

/// Weight caught by one minute of the session.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct CurvePoint {
    /// Minutes from the start of the session.
    pub minute: f64,
    /// Mean weight so far [kg].
    pub mean_kg: f64,
    /// First decile [kg].
    pub p10_kg: f64,
    /// Median [kg].
    pub p50_kg: f64,
    /// Ninth decile [kg].
    pub p90_kg: f64,
}

/// Result of one plan over all days.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[non_exhaustive]
pub struct PlanResult {
    /// Name of the plan.
    pub name: String,
    /// Weight at the scales.
    pub weight_kg: WeightKg,
    /// Intervals for the deciles of weight.
    #[serde(rename = "weight_kg_between")]
    pub decile_intervals_kg: DecilesKg,
    /// Days on a water that one knows; left out where there are too few days to separate the two kinds of spread.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub known_water: Option<KnownWater>,
    /// Fish landed.
    pub fish: Count,
    /// Bites: hookbaits taken.
    pub bites: MeanCount,
    /// Fish hooked and lost.
    pub lost: MeanCount,
    /// Fish hooked outside the mouth, landed or lost.
    pub foul_hooked: MeanCount,
    /// Casts.
    pub casts: MeanCount,
    /// Bait used, all baits together.
    pub bait_kg: BaitKg,
    /// Amount used of each bait, in the order of the scenario; unused baits are left out.
    pub baits: Vec<BaitAmount>,
    /// Catch by shoal.
    pub by_shoal: Vec<ByShoal>,
    /// Catch by hour and shoal.
    pub by_hour: Vec<ByHour>,
    /// Shares of the session by activity.
    pub time_share: TimeUse,
    /// Share of days on which this plan was heaviest; a day shared by k plans counts 1/k.
    pub best_share: f64,
    /// What happened in the swim.
    pub swim: SwimSummary,
    /// How often each rule fired, in the order of the plan; left out for plans without rules.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub rules: Vec<RuleFired>,
    /// Weight against time.
    pub curve: Vec<CurvePoint>,
}

impl PlanResult {
    /// Where eight days in ten lie at a point of the curve: on a water that one knows if days enough show it, otherwise with
    /// what nobody knows included [kg].
    #[must_use]
    pub fn day_range_kg(&self, point: &CurvePoint) -> (f64, f64) {
        match &self.known_water {
            Some(known) => (
                known.drawn_towards(point.p10_kg, point.p50_kg),
                known.drawn_towards(point.p90_kg, point.p50_kg),
            ),
            None => (point.p10_kg, point.p90_kg),
        }
    }
}
