//! The file of a learned book: read and checked against a scenario, and written.

use std::fmt::Write;
use std::path::Path;

use schemars::JsonSchema;
use serde::Deserialize;
use sha2::{Digest, Sha256};

use super::scenario_source::text_of_file;
use crate::scenario::diagnose::{
    Diagnostic, Diagnostics, SourceLocation, listed, nearest_name, quoted, shown_plainly,
};
use crate::scenario::ready::{LearnedBook, Scenario, Unknown};
use crate::scenario::values::place_in;

/// Name and version of the format.
pub const LEARNED_BOOK_FORMAT: &str = "shoalwise/book/1";
/// Largest number of draws in a file.
const MAX_DRAWS: usize = 10_000;

/// A learned book as its file has it, in TOML. Only format, draws and the keys of the unknowns must be there.
#[derive(Deserialize, JsonSchema)]
#[expect(dead_code, reason = "what is said of its origin is for people, and in the schema")]
pub struct LearnedBookFile {
    /// Name and version of the format.
    format: String,
    /// Name of the log.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    log: Option<String>,
    /// SHA-256 of the text of the log.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    log_sha256: Option<String>,
    /// Name of the scenario.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    scenario: Option<String>,
    /// SHA-256 of the scenario as read, with the values set on the command line.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    scenario_sha256: Option<String>,
    /// Version of the program.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    version: Option<String>,
    /// Commit from which the program was built.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    commit: Option<String>,
    /// Seed of the simulated logs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    seed: Option<u64>,
    /// Logs that were simulated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    simulated_logs: Option<u32>,
    /// Draws that are all equally likely; each has a value for every unknown, in their order [as named].
    draws: Vec<Vec<f64>>,
    /// The unknowns.
    unknown: Vec<NamedUnknown>,
}

/// An unknown of a learned book.
#[derive(Deserialize, JsonSchema)]
#[expect(dead_code, reason = "what is said of an unknown is for people, and in the schema")]
struct NamedUnknown {
    /// Its dotted key; `shoal.NAME.count` is the factor by which the scenario misjudges the number of fish.
    key: String,
    /// What it is.
    #[serde(rename = "says", default, skip_serializing_if = "Option::is_none")]
    meaning: Option<String>,
    /// Unit of its values; empty for a ratio or a count.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    unit: Option<String>,
    /// Before the log: 5 %, 50 % and 95 % quantile [in unit].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    before: Option<[f64; 3]>,
    /// After the log: 5 %, 50 % and 95 % quantile [in unit].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    after: Option<[f64; 3]>,
}

/// Reads the file of a learned book for a scenario.
///
/// # Errors
///
/// Everything that is wrong with the file, or does not fit the scenario.
pub fn load_learned_book(path: &Path, scenario: &Scenario) -> Result<LearnedBook, Diagnostics> {
    let shown = path.display().to_string();
    let text = text_of_file(path, "name a book that `learn --scenario` wrote")
        .map_err(|fault| Diagnostics::from_fault(&shown, *fault))?;
    read_learned_book(&text, &shown, scenario)
}

/// Reads the text of a learned book for a scenario; `shown` is the file's name in faults.
///
/// # Errors
///
/// As [`load_learned_book`].
pub fn read_learned_book(
    text: &str,
    shown: &str,
    scenario: &Scenario,
) -> Result<LearnedBook, Diagnostics> {
    let mut faults = Diagnostics::default();
    let book = read(text, scenario, &mut faults);
    match book {
        Some(book) if faults.is_empty() => Ok(book),
        _ => Err(faults.in_file(shown)),
    }
}

fn read(text: &str, scenario: &Scenario, faults: &mut Diagnostics) -> Option<LearnedBook> {
    let mut fault = |key: &str, problem: String, fix: &str| {
        faults.add(Diagnostic::new(&SourceLocation::File, key, problem, fix));
    };
    let file: LearnedBookFile = match toml::from_str(text) {
        Ok(file) => file,
        Err(error) => {
            let fix = "name a book that `learn --scenario` wrote, and leave it as it is";
            let reason = error.message().lines().collect::<Vec<_>>().join(", ");
            let reason = shown_plainly(&reason);
            let problem = format!("cannot be read as a book: {reason}");
            faults.add(Diagnostic::new(&place_in(text, error.span()), "", problem, fix));
            return None;
        }
    };
    if file.format != LEARNED_BOOK_FORMAT {
        let fix = format!("this version reads {LEARNED_BOOK_FORMAT}");
        fault("format", format!("is {}", quoted(&file.format)), &fix);
        return None;
    }
    let known = scenario.unknowns_with_fixed();
    let names = || known.iter().map(|unknown| unknown.key.as_str());
    let mut unknowns: Vec<&Unknown> = Vec::new();
    for NamedUnknown { key, .. } in &file.unknown {
        match known.iter().find(|unknown| unknown.key == *key) {
            Some(unknown) if unknowns.iter().any(|earlier| earlier.key == *key) => {
                fault(&unknown.key, "stands twice".to_owned(), "leave one of the two out");
            }
            Some(unknown) => unknowns.push(unknown),
            None => {
                let near = nearest_name(key, names());
                let shoals = scenario.shoals.iter().map(|shoal| shoal.name.as_str());
                let fix = format!(
                    "the book is for a water with other shoals or another version; this scenario has the shoals {}",
                    listed(shoals)
                );
                let problem = format!("{} has no such unknown", scenario.name);
                let place = &SourceLocation::File;
                faults.add(Diagnostic::new(place, key.as_str(), problem, fix).near(near));
                return None;
            }
        }
    }
    check_draws(&file.draws, &unknowns, faults);
    Some(LearnedBook {
        sha256: Sha256::digest(text.as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect(),
        text: text.to_owned(),
        targets: unknowns.iter().map(|unknown| unknown.target).collect(),
        draws: file.draws,
    })
}

/// Checks that each draw has a value for each unknown, within its range.
fn check_draws(draws: &[Vec<f64>], unknowns: &[&Unknown], faults: &mut Diagnostics) {
    let mut fault = |key: &str, problem: String, fix: &str| {
        faults.add(Diagnostic::new(&SourceLocation::File, key, problem, fix));
    };
    if !(1..=MAX_DRAWS).contains(&draws.len()) {
        let problem = format!("there are {}", draws.len());
        fault("draws", problem, &format!("a book has 1 to {MAX_DRAWS}"));
    }
    for (number, row) in draws.iter().enumerate() {
        let place = format!("draws, row {}", number + 1);
        if row.len() != unknowns.len() {
            let problem = format!("has {} numbers for {} unknowns", row.len(), unknowns.len());
            fault(&place, problem, "write one for each unknown");
            return;
        }
        for (unknown, value) in unknowns.iter().zip(row) {
            let [low, high] = unknown.parameter.range;
            if !(low..=high).contains(value) {
                let problem = format!("{}: {value} is outside {low} to {high}", unknown.key);
                fault(&place, problem, "a value lies within the range of its unknown");
            }
        }
    }
}

/// Writes a learned book: `about` is a remark on its origin in lines of `key = value`, and each unknown has what was
/// believed before and after, as low, middle and high.
///
/// ```
/// let scenario = sim::scenario::read(
///     "line.bar.distance = \"28 m\"\nshoal.residents.count = 60\nplan.patient.recast = \"10 min\"",
///     "pond",
///     &[],
/// ).expect("nothing is wrong with it");
/// let unknown = scenario.unknowns().pop().expect("the number of fish");
/// let (before, after) = ([0.4, 1.0, 2.5], [0.9, 1.2, 1.6]);
/// let text = sim::scenario::learned_book_text("", &[(&unknown, before, after)], &[vec![1.25]]);
/// let book = sim::scenario::read_learned_book(&text, "bar.toml", &scenario).expect("as it was written");
/// assert_eq!(book.draws, [[1.25]]);
/// ```
#[must_use]
pub fn learned_book_text(
    about: &str,
    unknowns: &[(&Unknown, [f64; 3], [f64; 3])],
    draws: &[Vec<f64>],
) -> String {
    let numbers = |values: &[f64]| values.iter().map(f64::to_string).collect::<Vec<_>>().join(", ");
    let mut text = format!(
        "# What a catch log says of the unknowns of a scenario; give it to a command with --book.\n\
         # Each row of draws has a value for every unknown below, in their order; all rows are equally likely.\n\
         format = \"{LEARNED_BOOK_FORMAT}\"\n{about}draws = [\n"
    );
    for row in draws {
        let _ = writeln!(text, "  [{}],", numbers(row));
    }
    text.push_str("]\n");
    for (unknown, before, after) in unknowns {
        let quote = |words: &str| toml::Value::String(words.to_owned()).to_string();
        let parameter = &unknown.parameter;
        let _ = write!(
            text,
            "\n[[unknown]]\nkey = {}\nsays = {}\nunit = {}\nbefore = [{}]\nafter = [{}]\n",
            quote(&unknown.key),
            quote(&parameter.meaning),
            quote(&parameter.unit),
            numbers(before),
            numbers(after),
        );
    }
    text
}
