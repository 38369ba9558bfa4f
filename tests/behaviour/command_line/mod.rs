//! The program as a user runs it: arguments, output, files and exit codes.

mod again;
mod arguments;
mod at_once;
mod best;
mod commands;
mod conventions;
mod options;
mod output_folder;
mod program;
mod readme;
mod source_version;
mod system_errors;
mod waters;

pub(crate) use program::{POND, ProgramFolder, ProgramOutput, json, names};
#[cfg(unix)]
pub(crate) use program::{send_signal, wait_until};
