//! Reading a scenario: text and `--set` values in, a scenario ready to run or all its faults out.

mod assemble;
mod baits;
mod interpret;
mod plans;
mod rules;
mod scenario_source;
mod weigh_ins;

pub use scenario_source::{ScenarioSource, load, read};

pub(super) use interpret::value_table;
