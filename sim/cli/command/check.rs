//! `check`: reports whether a scenario is free of faults.

use std::io::{Write, stdout};

use crate::cli::args::CheckArgs;
use crate::cli::exit_status::ExitError;
use crate::cli::formats::{BaitMeasure, CheckDocument};
use crate::cli::output::json_document;
use crate::cli::scenario::read;
use crate::report::counted;
use crate::scenario::{Lesson, Scenario, lessons_beside, measured_baits_kg};

/// Reads a scenario and the lessons next to it and says that they are sound, or lists all their faults.
pub fn check(args: &CheckArgs) -> Result<(), ExitError> {
    let (scenario, lessons) = match (read_all(args), args.json) {
        (Err(ExitError::WrongInput(error)), true) => {
            print_document(&CheckDocument::from_faults(error.downcast_ref()))?;
            return Err(ExitError::WrongInput(error));
        }
        (sound, _) => sound?,
    };
    if args.json {
        return print_document(&CheckDocument::new(&scenario, &lessons, measures(&scenario)));
    }
    let hours = scenario.session_s / 3600.0;
    let of_lessons = match lessons.len() {
        0 => String::new(),
        count => format!(", {}", counted(count as u64, "lesson")),
    };
    writeln!(
        stdout(),
        "scenario is sound: {}, {}, {}, {hours} h{of_lessons}",
        counted(scenario.lines.len() as u64, "line"),
        counted(scenario.shoals.len() as u64, "shoal"),
        counted(scenario.plans.len() as u64, "plan"),
    )?;
    for BaitMeasure { written, kg } in measures(&scenario) {
        writeln!(stdout(), "{written}: taken as {}", bait_weight(kg))?;
    }
    Ok(())
}

/// The scenario, and the lessons next to it.
fn read_all(args: &CheckArgs) -> Result<(Scenario, Vec<Lesson>), ExitError> {
    let scenario = read(&args.scenario, &[])?;
    Ok((scenario, lessons_beside(&args.scenario.path)?))
}

/// Amounts of bait of a scenario that are not written as weights, with what they were taken to weigh [kg].
fn measures(scenario: &Scenario) -> Vec<BaitMeasure> {
    let written = &scenario.written;
    // What follows a hash is said to people.
    let lines = written.text.lines().map(|line| line.split('#').next().unwrap_or_default());
    let sets = written.sets.iter().filter_map(|set| Some(set.split_once('=')?.1.trim()));
    let quoted = sets.map(|value| format!("\"{}\"", value.trim_matches(['"', '\''])));
    let all: Vec<String> = lines.map(str::to_owned).chain(quoted).collect();
    let measured = measured_baits_kg(&all.join("\n")).into_iter();
    measured.map(|(written, kg)| BaitMeasure { written, kg }).collect()
}

/// A weight of bait as it is weighed out: `100 g`, `2.6 g`, `1.4 kg`.
fn bait_weight(kg: f64) -> String {
    match kg {
        kg if kg >= 1.0 => format!("{kg:.2} kg"),
        kg if kg >= 0.01 => format!("{:.0} g", 1000.0 * kg),
        kg => format!("{:.2} g", 1000.0 * kg),
    }
}

fn print_document(document: &CheckDocument<'_>) -> Result<(), ExitError> {
    Ok(stdout().write_all(json_document(document)?.as_bytes())?)
}
