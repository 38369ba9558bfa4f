//! Comparison of plans on the same days: sums, statistical inference, aims, warnings, and the result.
//!
//! [`compare`] and [`compare_until_clear`] run it; a [`Scoreboard`] adds up days for them. It must not know how a
//! result is shown, and nothing of sweeps, searches or sensitivity.

mod accumulate;
mod aims;
mod curve;
mod decompose;
mod histogram;
mod inference;
mod plan_result;
mod result;
mod run;
mod tally;
mod warnings;
mod weather;
mod weights;

pub use accumulate::Scoreboard;
pub use curve::curve_times_s;
pub use decompose::{Factor, FactorContribution, decompose};
pub use histogram::DifferenceHistogram;
pub use plan_result::{
    BaitAmount, BaitKg, ByHour, ByShoal, Count, CurvePoint, DecilesKg, IntervalEnds, MeanCount,
    PlanResult, RuleFired, SwimSummary, WeightKg,
};
pub use result::{
    Aim, AimPlan, AimResult, Comparison, Difference, PairResult, Probability, StopReason,
    Superiority, VerdictRule, Warning,
};
pub use run::{UntilClearResult, compare, compare_until_clear, comparison};
