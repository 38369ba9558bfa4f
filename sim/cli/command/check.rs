//! `check`: reports whether a scenario is free of faults.

use std::io::{Write, stdout};

use crate::cli::args::CheckArgs;
use crate::cli::exit_status::ExitError;
use crate::cli::scenario::read;
use crate::report::counted;

/// Reads a scenario and says that it is sound, or lists all its faults.
///
/// # Errors
///
/// [`ExitError::WrongInput`] with all faults.
pub fn check(args: &CheckArgs) -> Result<(), ExitError> {
    let scenario = read(&args.scenario, &[])?;
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
