//! Entry point of the command line: parses the arguments, runs the command, reports errors.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::process::ExitCode;

use clap::error::ErrorKind;
use clap::{CommandFactory, Parser};
use clap_complete::CompleteEnv;

use super::args::{Command, CommandLine};
use super::exit_status::ExitError;
use super::terminal::{notify, print_faults};

/// Variable of the environment with which a shell asks for completions.
pub(super) const COMPLETION_VARIABLE: &str = "SHOALWISE_COMPLETE";

/// Parses the command line, passes the command to `execute` and returns the exit code.
///
/// An error is printed once, on standard error.
pub fn run(execute: impl FnOnce(&Command) -> Result<(), ExitError>) -> ExitCode {
    // A shell that completes a line asks with a variable; the answer ends the program.
    CompleteEnv::with_factory(CommandLine::command).var(COMPLETION_VARIABLE).complete();
    let command_line = match CommandLine::try_parse() {
        Ok(command_line) => command_line,
        Err(message) => return print_usage(&message),
    };
    match catch_unwind(AssertUnwindSafe(|| execute(&command_line.command))) {
        Ok(Ok(())) => ExitCode::SUCCESS,
        Ok(Err(error)) if error.is_broken_pipe() => ExitCode::SUCCESS,
        Ok(Err(error)) => {
            match error.faults() {
                Some(faults) => print_faults(faults),
                None => notify(&error.to_string()),
            }
            error.exit_code()
        }
        // The panic has printed its own message already.
        Err(_) => {
            notify(
                "this is a bug in the program, not a fault of your scenario; please report it with the lines above",
            );
            ExitCode::from(1)
        }
    }
}

/// Prints help and version on standard output, and wrong usage on standard error.
fn print_usage(message: &clap::Error) -> ExitCode {
    if message.kind() == ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand {
        let _ = message.print();
        return ExitCode::from(2);
    }
    if message.use_stderr() {
        let text = message.render().to_string();
        notify(text.strip_prefix("error: ").unwrap_or(&text).trim_end());
        return ExitCode::from(2);
    }
    // A closed pipe is no failure of the help.
    let _ = message.print();
    ExitCode::SUCCESS
}
