//! The result of a comparison across waters, in the shape in which it is written as JSON.

use schemars::JsonSchema;
use serde::Serialize;

use crate::stats::Verdict;
use crate::study::compare::{Comparison, StopReason, VerdictRule};
use crate::study::estimate::{Estimate, MeanEstimate, ShareOrNull};

/// A plan of one of several waters.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct WaterPlan {
    /// Name of the scenario.
    pub water: String,
    /// Name of the plan.
    pub plan: String,
}

/// On which days two plans were compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PairDays {
    /// Both on the same days of one water; the difference is paired.
    Same,
    /// Each on days of its own; the difference is that of two independent samples.
    Own,
}

/// Two plans compared, of one water or of two.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WaterPair {
    /// Plan a.
    pub a: WaterPlan,
    /// Plan b.
    pub b: WaterPlan,
    /// On which days they were compared.
    pub days: PairDays,
    /// Mean of a − mean of b, with Welch's interval, or the paired one on the same days [kg].
    ///
    /// The 95 % holds for all pairs at once, and for all interim analyses. There is none for a single day.
    #[serde(with = "MeanEstimate")]
    pub difference_kg: Estimate,
    /// Standard error of the difference [kg]. `None` for a single day.
    pub difference_se_kg: Option<f64>,
    /// Degrees of freedom of the interval. `None` for a single day [count].
    pub degrees_of_freedom: Option<f64>,
    /// Verdict on a against b in mean weight.
    pub verdict: Verdict,
    /// Probability that a on one day is heavier than b on another day; equal weights count half. `None` if there are too few
    /// days.
    #[serde(rename = "two_days", with = "ShareOrNull")]
    pub independent_days: Option<Estimate>,
}

/// The result of a comparison across waters.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WatersComparison {
    /// `shoalwise/waters/1`.
    pub format: &'static str,
    /// Seed of the first water; each next one has a seed greater by one.
    pub seed: u64,
    /// Days fished on each water.
    pub days: u32,
    /// Why it stopped after these days.
    pub stopped_because: StopReason,
    /// How verdicts were reached, between all plans of all waters.
    pub rule: VerdictRule,
    /// Every pair of plans.
    pub pairs: Vec<WaterPair>,
    /// Each water by itself, in the order given. Left out when serialised: they are written, with warnings in words, by
    /// [`WatersDocument`](crate::report::WatersDocument).
    #[serde(skip)]
    pub waters: Vec<Comparison>,
}

impl WatersComparison {
    /// Name and version of the format.
    pub const FORMAT: &'static str = "shoalwise/waters/1";
    /// Name and version of the format of the table of sessions.
    pub const SESSIONS_FORMAT: &'static str = "shoalwise/water-sessions/1";
}

/// How a comparison across waters ended.
#[derive(Clone, Debug, PartialEq)]
pub enum WatersOutcome {
    /// All days are done.
    Done(Box<WatersComparison>),
    /// It was stopped from outside before that.
    Interrupted {
        /// Days done so far on every water.
        days: u32,
    },
}
