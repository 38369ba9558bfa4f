//! Comparison of the plans of several waters, each on days of its own: peg against peg, summer against winter.
//!
//! Plans of one water are fished on the same days and compared day by day; plans of different waters are compared as two
//! independent samples of days. It must not know how a result is shown.

mod builder;
mod pairs;
mod result;
mod run;

pub use builder::CompareWaters;
pub use result::{PairDays, WaterPair, WaterPlan, WatersComparison, WatersOutcome};
