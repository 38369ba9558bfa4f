//! `check`: reports whether a scenario is free of faults.

use std::io::{Write, stdout};

use crate::cli::args::CheckArgs;
use crate::cli::exit_status::ExitError;
use crate::cli::formats::CheckDocument;
use crate::cli::output::json_document;
use crate::cli::scenario::read;
use crate::report::counted;

/// Reads a scenario and says that it is sound, or lists all its faults.
///
/// # Errors
///
/// [`ExitError::WrongInput`] with all faults.
pub fn check(args: &CheckArgs) -> Result<(), ExitError> {
    let scenario = match (read(&args.scenario, &[]), args.json) {
        (Err(ExitError::WrongInput(error)), true) => {
            print_document(&CheckDocument::from_faults(error.downcast_ref()))?;
            return Err(ExitError::WrongInput(error));
        }
        (scenario, _) => scenario?,
    };
    if args.json {
        return print_document(&CheckDocument::new(&scenario));
    }
    let hours = scenario.session_s / 3600.0;
    writeln!(
        stdout(),
        "scenario is sound: {}, {}, {}, {hours} h",
        counted(scenario.lines.len() as u64, "line"),
        counted(scenario.shoals.len() as u64, "shoal"),
        counted(scenario.plans.len() as u64, "plan"),
    )?;
    Ok(())
}

fn print_document(document: &CheckDocument<'_>) -> Result<(), ExitError> {
    Ok(stdout().write_all(json_document(document)?.as_bytes())?)
}
