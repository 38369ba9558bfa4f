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
pub use curve::knots_s;
pub use decompose::{Part, PartOf, parts};
pub use histogram::Histogram;
pub use plan_result::{
    BaitKg, BaitOf, ByHour, ByShoal, Count, CurvePoint, DecilesKg, Ends, Mean, PlanResult,
    RuleFired, Swim, TimeShare, WeightKg,
};
pub use result::{
    Aim, AimPlan, AimResult, Beats, Chance, Comparison, Difference, Pair, Rule, Stopped, Warning,
};
pub use run::{UntilClear, compare, compare_until_clear, comparison};
