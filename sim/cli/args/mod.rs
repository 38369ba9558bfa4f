//! Commands, their options, and how the values of options are parsed.
//!
//! It must not depend on what a command does.

mod commands;
mod objective;
mod option_groups;
mod value_parsers;

pub use commands::{
    BestArgs, CardArgs, CheckArgs, Command, CompareArgs, LearnArgs, LogArgs, MergeArgs, NowArgs,
    PageArgs, ParamsArgs, ReplayArgs, SweepArgs,
};
pub(super) use commands::{CommandLine, SamplingArg};
pub(super) use option_groups::{OutputOptions, RunOptions, ScenarioArgs, UnitsArg};
