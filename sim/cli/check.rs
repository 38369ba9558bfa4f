//! `check`: is the scenario sound?

use std::io::{Write, stdout};

use super::args::CheckArgs;
use super::ended::Ended;
use super::reading::read;

/// Reads a scenario and says that it is sound, or everything that is wrong with it.
///
/// # Errors
///
/// [`Ended::WrongInput`] with all faults.
pub fn check(asked: &CheckArgs) -> Result<(), Ended> {
    let scenario = read(&asked.read, &[])?;
    let hours = scenario.session_s / 3600.0;
    writeln!(
        stdout(),
        "scenario is sound: {}, {}, {}, {hours} h",
        counted(scenario.lines.len(), "line"),
        counted(scenario.shoals.len(), "shoal"),
        counted(scenario.plans.len(), "plan"),
    )?;
    Ok(())
}

fn counted(n: usize, thing: &str) -> String {
    format!("{n} {thing}{}", if n == 1 { "" } else { "s" })
}
