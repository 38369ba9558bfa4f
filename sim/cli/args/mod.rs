//! Commands, their options, and how the values of options are parsed.
//!
//! It must not depend on what a command does.

mod candidates;
mod commands;
mod examples;
mod objective;
mod option_groups;
mod program;
mod value_parsers;

pub use commands::{
    BestArgs, CardArgs, CheckArgs, Command, CompareArgs, LearnArgs, LogArgs, MergeArgs, NowArgs,
    PageArgs, ParamsArgs, ReplayArgs, SweepArgs,
};
pub(super) use commands::{CommandLine, SamplingArg, where_to_report};
pub(super) use option_groups::{
    OutputOptions, RunOptions, ScenarioArgs, UNITS_VARIABLE, UnitsArg, source_of,
};
pub(super) use program::SchemaArg;
pub use program::{CompletionsArgs, ManArgs, NewArgs, SchemaArgs};
