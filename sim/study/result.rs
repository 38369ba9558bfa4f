//! The result of a comparison, in the shape in which it is written as JSON.

use serde::Serialize;

use super::stamp::Stamp;

/// Why a comparison stopped.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Stopped {
    /// Every verdict was clear.
    Clear,
    /// The limit of days was reached.
    Limit,
    /// The number of days was asked for.
    Asked,
}

/// Mean, its standard error and deciles over days [kg].
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct WeightKg {
    /// Mean.
    pub mean: f64,
    /// Standard error of the mean.
    pub se: f64,
    /// One day in ten is below.
    pub p10: f64,
    /// Median.
    pub p50: f64,
    /// One day in ten is above.
    pub p90: f64,
}

/// Mean and deciles of a count.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Count {
    /// Mean.
    pub mean: f64,
    /// One day in ten is below.
    pub p10: f64,
    /// Median.
    pub p50: f64,
    /// One day in ten is above.
    pub p90: f64,
}

/// A mean alone.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Mean {
    /// Mean over days.
    pub mean: f64,
}

/// Bait used [kg].
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BaitKg {
    /// Mean over days.
    pub mean: f64,
    /// One day in ten needs more.
    pub p90: f64,
}

/// Catch from one shoal.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ByShoal {
    /// The shoal's name.
    pub shoal: String,
    /// Fish a day.
    pub fish_mean: f64,
    /// Weight a day [kg].
    pub weight_kg_mean: f64,
}

/// How often one rule of a plan fired.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RuleFired {
    /// The rule's name.
    pub rule: String,
    /// Times a day.
    pub mean: f64,
    /// Share of days on which it fired at all.
    pub days_share: f64,
}

/// Shares of the session; add up to one.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct TimeShare {
    /// Winding in, casting, sinking.
    pub casting: f64,
    /// Bait in the water, hands free.
    pub waiting: f64,
    /// Playing fish.
    pub playing: f64,
    /// Unhooking, loading, baiting.
    pub rebaiting: f64,
    /// Loose feeding.
    pub feeding: f64,
    /// Snags, changing line, nothing to do.
    pub other: f64,
}

/// What went on in the swim, over all days.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Swim {
    /// Fish feeding on the fished line while a bait lay in the water, mean over that time.
    pub fish_on_line: f64,
    /// Fish up in the water over it, mean over that time.
    pub fish_up: f64,
    /// Share of mouthfuls from the hookbait's patch that were the hookbait.
    pub hookbait_share_of_mouthfuls: f64,
    /// Share of meetings with the hookbait that ended in a take.
    pub taken_share: f64,
    /// Share of the time a bait lay in the water during which a hookbait was there to be taken.
    pub hookbait_there_share: f64,
    /// Bites an hour of bait in the water.
    pub bites_per_hour_in_water: f64,
    /// Mean mass of a landed fish [kg]; zero where none was landed.
    pub fish_kg: f64,
    /// Fish put to flight a session.
    pub scared: f64,
    /// Arrivals of fish at lines a session.
    pub arrived: f64,
    /// Snagged casts a session.
    pub snags: f64,
    /// Events a session.
    pub events: f64,
}

/// The curve at one minute.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct CurvePoint {
    /// Minutes from the start.
    pub minute: f64,
    /// Mean weight so far [kg].
    pub mean_kg: f64,
    /// One day in ten is below [kg].
    pub p10_kg: f64,
    /// One day in ten is above [kg].
    pub p90_kg: f64,
}

/// One plan over all days.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlanResult {
    /// The plan's name.
    pub name: String,
    /// Weight at the scales.
    pub weight_kg: WeightKg,
    /// Fish landed.
    pub fish: Count,
    /// Hookbaits taken.
    pub bites: Mean,
    /// Fish hooked and lost.
    pub lost: Mean,
    /// Casts.
    pub casts: Mean,
    /// Bait used.
    pub bait_kg: BaitKg,
    /// Catch by shoal.
    pub by_shoal: Vec<ByShoal>,
    /// Where the time went.
    pub time_share: TimeShare,
    /// Share of days on which it came best; days shared by k plans count 1/k.
    pub best_share: f64,
    /// What went on in the swim.
    pub swim: Swim,
    /// How often each rule fired, in the plan's order; left out of plans without rules.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub rules: Vec<RuleFired>,
    /// Expected weight against time.
    pub curve: Vec<CurvePoint>,
}

/// A difference with its 95 % interval, paired by day [kg].
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Difference {
    /// Mean of a − b.
    pub mean: f64,
    /// Lower end.
    pub low95: f64,
    /// Upper end.
    pub high95: f64,
}

/// Two plans on the same days.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Pair {
    /// One plan.
    pub a: String,
    /// The other.
    pub b: String,
    /// a − b.
    pub difference_kg: Difference,
    /// Share of days on which a weighed more.
    pub a_ahead_share: f64,
    /// Share of days on which both weighed the same.
    pub tie_share: f64,
    /// Correlation of their weights over days; none where either never varies.
    pub correlation: Option<f64>,
}

/// Something the reader should know.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Warning {
    /// A word for programs.
    pub kind: String,
    /// A sentence for people.
    pub says: String,
}

/// A whole comparison.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Comparison {
    /// `shoalwise/compare/1`.
    pub format: &'static str,
    /// Where it came from.
    pub stamp: Stamp,
    /// Days fished.
    pub days: u32,
    /// Why no more.
    pub stopped_because: Stopped,
    /// Plans, in the order of the scenario.
    pub plans: Vec<PlanResult>,
    /// Every pair of plans.
    pub pairs: Vec<Pair>,
    /// What the reader should know.
    pub warnings: Vec<Warning>,
}
