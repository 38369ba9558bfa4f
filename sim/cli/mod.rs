//! The command line: one of the two front ends.
//!
//! Reads the arguments, calls the layers below, prints, and reports success or failure by the exit code. It must not
//! compute results or word them (`study` and `report` do that), and must not depend on `web`.

mod args;
mod command;
mod entry;
mod excerpt;
mod exit_status;
mod formats;
mod interrupt;
mod output;
mod progress;
mod scenario;
mod terminal;
mod threads;

pub use args::{
    BestArgs, CardArgs, CheckArgs, Command, CompareArgs, CompletionsArgs, LearnArgs, LogArgs,
    ManArgs, MergeArgs, NewArgs, NowArgs, PageArgs, ParamsArgs, ReplayArgs, SchemaArgs, SweepArgs,
};
pub use command::{
    best, card, check, compare, completions, learn, log, man, merge, new, now, page, params,
    replay, schema, sweep,
};
pub use entry::run;
pub use exit_status::ExitError;
#[doc(hidden)]
pub use output::{CatchesCsv, Folder, FolderError, RUN_FILES, RunFile, RunOrigin, RunSpec};
