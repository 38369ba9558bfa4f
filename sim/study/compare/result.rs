//! The result of a comparison, in the shape in which it is written as JSON.

use schemars::JsonSchema;
use serde::Serialize;

use super::decompose::FactorContribution;
use super::histogram::DifferenceHistogram;
use super::plan_result::PlanResult;
use super::warning::Warning;
use crate::stats::Verdict;
use crate::study::estimate::{AimEstimate, Estimate, MeanEstimate, ShareEstimate, ShareOrNull};
use crate::study::stamp::Stamp;

/// Why a comparison stopped.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum StopReason {
    /// Every verdict was clear.
    Clear,
    /// The limit of days was reached.
    Limit,
    /// The requested number of days was fished.
    #[serde(rename = "asked")]
    Requested,
}

/// Three probabilities that plan a beats plan b. Each has its own meaning; do not use one in place of another.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Superiority {
    /// Probability that a is heavier on the same day, with the same fish, weather and replicate noise. Days of equal
    /// weight count for neither plan.
    #[serde(with = "ShareEstimate")]
    pub same_day: Estimate,
    /// Probability that a on one day is heavier than b on another day; equal weights count half. `None` below three
    /// days.
    #[serde(rename = "two_days", with = "ShareOrNull")]
    pub independent_days: Option<Estimate>,
    /// Probability that the mean of a, over weather and replicate noise, is above the mean of b, given the uncertain
    /// inputs of the fish model: the share of their draws that favours a. `None` if there are too few days.
    #[serde(rename = "on_average", with = "ShareOrNull")]
    pub mean_higher: Option<Estimate>,
}

/// Two plans compared on the same days.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[non_exhaustive]
pub struct PairResult {
    /// Name of plan a.
    pub a: String,
    /// Name of plan b.
    pub b: String,
    /// Mean difference a − b, paired by day [kg].
    ///
    /// The 95 % holds for all pairs of plans at once, and for all interim analyses of a run that stops when its
    /// verdicts are clear. Each single interval is wider to allow for that. There is none for a single day.
    #[serde(with = "MeanEstimate")]
    pub difference_kg: Estimate,
    /// Share of days on which a was heavier.
    pub a_ahead_share: f64,
    /// Share of days on which both weights were equal.
    pub tie_share: f64,
    /// Correlation of the two weights over days; `None` if either never varies [ratio].
    pub correlation: Option<f64>,
    /// Factors of the difference; their contributions add up to its mean.
    #[serde(rename = "parts")]
    pub factors: Vec<FactorContribution>,
    /// Number of days by size of the difference.
    pub histogram: DifferenceHistogram,
    /// Standard error of the mean difference [kg]; `None` for a single day.
    pub difference_se_kg: Option<f64>,
    /// Verdict on a against b in mean weight.
    pub verdict: Verdict,
    /// Three probabilities that a beats b.
    #[serde(rename = "beats")]
    pub superiority: Superiority,
    /// How many times as many days the same precision would take if each plan were fished on its own days: the sum
    /// of the two variances over the variance of the difference. `None` if the difference never varies [ratio].
    pub days_saved_factor: Option<f64>,
    /// Share of the variance of the difference that the uncertain inputs explain, and that knowing them would remove.
    /// `None` if there are too few days.
    #[serde(rename = "unknowns_share", with = "ShareOrNull")]
    pub uncertain_inputs_share: Option<Estimate>,
}

/// How verdicts were reached.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct VerdictRule {
    /// Maximum probability that any verdict between any two plans is false [share].
    pub error: f64,
    /// Interim analyses performed.
    #[serde(rename = "looks")]
    pub analyses: u32,
    /// Maximum number of interim analyses, over which the error was split.
    #[serde(rename = "looks_at_most")]
    pub max_analyses: u32,
    /// Pairs of plans over which the error was split.
    pub pairs: u32,
    /// Confidence level of each single interval of a difference in weight [share].
    pub level_of_each: f64,
    /// Plans are level if their difference certainly lies within this margin in either direction [kg].
    pub margin_kg: f64,
}

/// An aim by which plans are judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Aim {
    /// The greatest mean weight.
    MeanWeight,
    /// A weight above a target.
    Target,
    /// The heaviest net of the section.
    Win,
    /// A place in the frame: one of the first few of the section.
    Frame,
    /// No day without a fish.
    Blank,
    /// The greatest mean weight on the worst days.
    WorstDays,
}

/// How well one plan meets an aim.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct AimPlan {
    /// Name of the plan.
    pub name: String,
    /// A weight [kg] or a probability, depending on the aim.
    #[serde(flatten, with = "AimEstimate")]
    pub result: Estimate,
}

/// How well every plan meets one aim.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[non_exhaustive]
pub struct AimResult {
    /// The aim.
    pub aim: Aim,
    /// Unit of the values: `kg` or `share`.
    pub unit: &'static str,
    /// Whether larger values are better.
    pub more_is_better: bool,
    /// The target weight [kg], the number of places that frame, or the share of days that count as the worst. `None`
    /// for other aims.
    #[serde(rename = "at")]
    pub threshold: Option<f64>,
    /// Number of rivals in the section; `None` for aims without a section.
    pub rivals: Option<u32>,
    /// Plans, in the order of the scenario.
    pub plans: Vec<AimPlan>,
    /// Name of the plan that meets the aim best.
    pub best: String,
    /// Names of other plans whose difference from the best is not statistically clear.
    #[serde(rename = "not_told_apart")]
    pub not_clearly_worse: Vec<String>,
}

/// The result of a comparison.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[non_exhaustive]
pub struct Comparison {
    /// `shoalwise/compare/1`.
    pub format: &'static str,
    /// Where the result came from.
    pub stamp: Stamp,
    /// Days fished.
    pub days: u32,
    /// Why it stopped after these days.
    pub stopped_because: StopReason,
    /// Plans, in the order of the scenario; empty if no day was fished.
    pub plans: Vec<PlanResult>,
    /// Every pair of plans.
    pub pairs: Vec<PairResult>,
    /// How verdicts were reached.
    pub rule: VerdictRule,
    /// How well the plans meet each aim.
    pub aims: Vec<AimResult>,
    /// What the reader should know. Left out when serialised: they are written in words, with the whole document, by
    /// [`ComparisonDocument`](crate::report::ComparisonDocument).
    #[serde(skip)]
    pub warnings: Vec<Warning>,
}

impl Comparison {
    /// Name and version of the format.
    pub const FORMAT: &'static str = "shoalwise/compare/1";
}
