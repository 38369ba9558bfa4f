//! Entry point of the command line: parses the arguments, runs the command, reports errors.

use std::env;
use std::ffi::OsString;
use std::io;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::process::ExitCode;

use clap::error::ErrorKind;
use clap::{ColorChoice, CommandFactory, FromArgMatches, ValueEnum};
use clap_complete::CompleteEnv;

use super::args::{Command, CommandLine, where_to_report};
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
    let colour = wanted_colour(env::args_os());
    // A command has the name and version of the program.
    let command = CommandLine::command().color(colour);
    let command = command.mut_subcommands(|command| command.display_name("shoalwise"));
    let matches = command.try_get_matches();
    let parsed = matches.and_then(|matches| CommandLine::from_arg_matches(&matches));
    let command_line = match parsed {
        Ok(command_line) => command_line,
        Err(message) => return print_usage(&message),
    };
    match catch_unwind(AssertUnwindSafe(|| execute(&command_line.command))) {
        Ok(Ok(())) => ExitCode::SUCCESS,
        Ok(Err(error)) if error.is_broken_pipe() => ExitCode::SUCCESS,
        Ok(Err(error)) => {
            match error.faults() {
                Some(faults) => print_faults(faults, colour),
                None => notify(&error.to_string()),
            }
            error.exit_code()
        }
        // The panic has printed its own message already.
        Err(_) => {
            notify(&format!(
                "this is a bug in the program, not a fault of your scenario; please {}, with the lines above",
                where_to_report()
            ));
            ExitCode::from(1)
        }
    }
}

/// The colour that the arguments ask for. Help and usage have it too, so it is read before they are parsed.
fn wanted_colour(args: impl Iterator<Item = OsString>) -> ColorChoice {
    let words: Vec<String> = args.map(|arg| arg.to_string_lossy().into_owned()).collect();
    let options = words.split(|word| word == "--").next().unwrap_or_default();
    let after = |word: &String, next: Option<&String>| match word.strip_prefix("--color") {
        Some("") => next.cloned(),
        Some(rest) => rest.strip_prefix('=').map(str::to_owned),
        None => None,
    };
    let values = options.iter().enumerate();
    let value = values.filter_map(|(index, word)| after(word, options.get(index + 1))).next_back();
    value.and_then(|value| ColorChoice::from_str(&value, false).ok()).unwrap_or_default()
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
    match message.print() {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => {
            let error = ExitError::from(error);
            notify(&error.to_string());
            error.exit_code()
        }
        // A closed pipe is no failure of the help.
        _ => ExitCode::SUCCESS,
    }
}
