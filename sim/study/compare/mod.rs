//! Comparison of plans on the same days: sums, statistical inference, aims, warnings, and the result.
//!
//! [`Compare`] sets it up, [`compare`] and [`compare_until_clear`] run it; a [`Scoreboard`] adds up days for them. It must
//! not know how a result is shown, and nothing of sweeps, searches or sensitivity.

mod accumulate;
mod aims;
mod builder;
mod curve;
mod decompose;
mod histogram;
mod inference;
mod plan_result;
mod result;
mod run;
mod tally;
mod warning;
mod warning_checks;
mod weather;
mod weights;

pub use accumulate::Scoreboard;
pub use builder::Compare;
pub use curve::curve_times_s;
pub use decompose::{Factor, FactorContribution, decompose};
pub use histogram::DifferenceHistogram;
pub use plan_result::{
    BaitAmount, BaitKg, ByHour, ByShoal, Count, CurvePoint, DecilesKg, KnownWater, MeanCount,
    PlanResult, RuleFired, SwimSummary, WeightKg,
};
pub use result::{
    Aim, AimPlan, AimResult, Comparison, PairResult, StopReason, Superiority, VerdictRule,
};
pub use run::{CompareResult, compare, compare_until_clear, comparison};
pub use warning::Warning;

pub(super) use inference::{default_margin_kg, interim_analyses, rule};
pub(super) use run::by_rule;
