//! The result of a comparison, in the shape in which it is written as JSON.

use serde::Serialize;

use super::histogram::Histogram;
use super::parts::Part;
use super::stamp::Stamp;
use crate::stats::Standing;

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

/// Ends of a 95 % interval.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Ends {
    /// Lower end.
    pub low95: f64,
    /// Upper end.
    pub high95: f64,
}

/// How surely the deciles of weight are known, by the order of the days alone [kg]; none of too few days.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct DecilesKg {
    /// The first decile.
    pub p10: Option<Ends>,
    /// The median.
    pub p50: Option<Ends>,
    /// The ninth.
    pub p90: Option<Ends>,
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

/// One bait used [kg].
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BaitOf {
    /// The bait's name.
    pub bait: String,
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

/// Catch of one hour of the session, or of its last part of an hour.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ByHour {
    /// When it ends, in minutes from the start.
    pub until_minute: f64,
    /// Catch by shoal within it.
    pub by_shoal: Vec<ByShoal>,
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
    /// Hours a session with a bait in the water.
    pub hours_in_water: f64,
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
    /// Median [kg].
    pub p50_kg: f64,
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
    /// How surely its deciles are known.
    pub weight_kg_between: DecilesKg,
    /// Fish landed.
    pub fish: Count,
    /// Hookbaits taken.
    pub bites: Mean,
    /// Fish hooked and lost.
    pub lost: Mean,
    /// Fish hooked outside the mouth, landed or lost.
    pub foul_hooked: Mean,
    /// Casts.
    pub casts: Mean,
    /// Bait used.
    pub bait_kg: BaitKg,
    /// Each bait used, in the order of the scenario; those never used are left out.
    pub baits: Vec<BaitOf>,
    /// Catch by shoal.
    pub by_shoal: Vec<ByShoal>,
    /// Catch by hour and shoal.
    pub by_hour: Vec<ByHour>,
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

/// A share or probability with its 95 % interval.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Chance {
    /// The estimate, 0 to 1.
    pub share: f64,
    /// Lower end.
    pub low95: f64,
    /// Upper end.
    pub high95: f64,
}

/// Three ways in which one plan may be said to beat another. They are different numbers; none stands for another.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Beats {
    /// a was heavier on the same day: same fish, same weather, same luck. A day of equal weights counts for
    /// neither.
    pub same_day: Chance,
    /// a on one day was heavier than b on another; equal weights count half. None of fewer than three days.
    pub two_days: Option<Chance>,
    /// a's mean over luck and weather is above b's, given that nobody knows how the fish behave: the chance that
    /// what is drawn for them favours a. None of too few days to tell.
    pub on_average: Option<Chance>,
}

/// A difference with its 95 % interval, paired by day [kg].
///
/// The 95 % holds for all pairs of plans at once, and for all the looks of a run that stops when its verdicts are
/// clear: each single interval is as much wider as that takes.
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
    /// Parts of the difference; they add up to its mean.
    pub parts: Vec<Part>,
    /// How often each difference came.
    pub histogram: Histogram,
    /// Standard error of the mean difference [kg]; none of one day.
    pub difference_se_kg: Option<f64>,
    /// How a stands to b in mean weight.
    pub verdict: Standing,
    /// In which sense, and how surely, a beats b.
    pub beats: Beats,
    /// How many times as many days it would take to know the difference as well, were each plan fished on days
    /// of its own: the sum of the two variances over the variance of the difference. None where the difference
    /// never varies.
    pub days_saved_factor: Option<f64>,
    /// Share of the variance of the difference from day to day that goes with what nobody knows about the fish,
    /// and would be gone were it known; none of too few days to tell.
    pub unknowns_share: Option<Chance>,
}

/// How verdicts were reached.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Rule {
    /// Chance that any verdict between any two plans is false, at most.
    pub error: f64,
    /// Looks taken.
    pub looks: u32,
    /// Looks over which the error was split.
    pub looks_at_most: u32,
    /// Pairs over which it was split.
    pub pairs: u32,
    /// Level of each single interval of a difference in weight.
    pub level_of_each: f64,
    /// Plans whose difference surely lies within this either way are level [kg].
    pub margin_kg: f64,
}

/// What a day is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Aim {
    /// The greatest mean weight.
    MeanWeight,
    /// A weight to pass.
    Target,
    /// The heaviest net of the section.
    Win,
    /// One of the first few places of the section.
    Frame,
    /// No day without a fish.
    Blank,
    /// The mean of the worst days.
    WorstDays,
}

/// How one plan serves an aim.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AimPlan {
    /// The plan's name.
    pub name: String,
    /// A weight [kg] or a chance, by the aim.
    pub value: f64,
    /// Lower end of its 95 % interval.
    pub low95: f64,
    /// Upper end.
    pub high95: f64,
}

/// One aim, and how every plan serves it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AimResult {
    /// Which.
    pub aim: Aim,
    /// `kg` or `share`.
    pub unit: &'static str,
    /// Whether more of it is better.
    pub more_is_better: bool,
    /// The weight to pass [kg], the places that frame, or the share of days that are the worst; else none.
    pub at: Option<f64>,
    /// Rivals in the section, for aims that have them.
    pub rivals: Option<u32>,
    /// Plans, in the order of the scenario.
    pub plans: Vec<AimPlan>,
    /// The plan that serves it best.
    pub best: String,
    /// Other plans that were not told apart from the best in this aim.
    pub not_told_apart: Vec<String>,
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
    /// How verdicts were reached.
    pub rule: Rule,
    /// How the plans serve each aim.
    pub aims: Vec<AimResult>,
    /// What the reader should know.
    pub warnings: Vec<Warning>,
}
