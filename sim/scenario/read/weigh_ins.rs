//! Past weigh-ins of rivals, read from a CSV file in the folder of the scenario.

use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};

use crate::scenario::diagnose::{Diagnostics, quoted, system_problem};
use crate::scenario::schema::{Dimension, FullKey, aim, read_quantity};
use crate::scenario::values::ValueTable;

/// The column that is read; there may be others.
const COLUMN: &str = "weight";
/// Fewer weigh-ins than this say too little about how rivals differ.
const MIN_WEIGH_INS: usize = 5;
/// Largest file read [bytes].
const MAX_BYTES: u64 = 1_000_000;
/// Largest weigh-in [kg].
const MAX_KG: f64 = 1000.0;

/// Weigh-ins that were read.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct WeighIns {
    /// Path of the file, as the scenario names it.
    pub(super) name: String,
    /// Weights in ascending order [kg].
    pub(super) sorted_kg: Vec<f64>,
    /// The text of the file.
    pub(super) text: String,
}

/// How file names in a scenario are resolved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Attachments {
    /// There are no files.
    None,
    /// By their paths from this folder.
    From(PathBuf),
    /// By their names in this folder and nowhere else.
    Only(PathBuf),
    /// The one file was read before; this is its text.
    Stored(String),
}

impl Attachments {
    /// Whether a message may repeat what is in the file: a page must not show others a file that is no table.
    fn may_be_quoted(&self) -> bool {
        !matches!(self, Self::Only(_))
    }

    fn text_of(&self, name: &str) -> Result<String, String> {
        match self {
            Self::None => {
                Err("is not available: this scenario was not read from a file".to_owned())
            }
            Self::From(folder) => text_of_file(&folder.join(name)),
            Self::Only(folder) => {
                let is_inside = || {
                    let real = folder.join(name).canonicalize().ok()?;
                    Some(real.parent()? == folder.canonicalize().ok()?)
                };
                match Path::new(name).file_name() {
                    Some(plain) if plain == name && is_inside() != Some(false) => {
                        text_of_file(&folder.join(plain))
                    }
                    _ => Err("is not in the scenario's own folder".to_owned()),
                }
            }
            Self::Stored(text) => Ok(text.clone()),
        }
    }
}

/// Reads the file of weigh-ins that the scenario names. `None` if it names none or the file has faults.
pub(super) fn weigh_ins(
    table: &ValueTable,
    attachments: &Attachments,
    faults: &mut Diagnostics,
) -> Option<WeighIns> {
    let name = table.given(&aim::WEIGH_INS)?;
    let mut add_fault = |problem: String, fix: &str| {
        faults.add(table.fault(aim::WEIGH_INS.dotted(), problem, fix));
    };
    let is_table = Path::new(&name).extension().is_some_and(|end| end.eq_ignore_ascii_case("csv"));
    let text = match is_table {
        true => attachments.text_of(&name),
        false => Err("does not end in .csv".to_owned()),
    };
    let text = match text {
        Ok(text) => text,
        Err(problem) => {
            let fix = "name a CSV file by its path from the scenario file, or write section.weight";
            add_fault(format!("{} {problem}", quoted(&name)), fix);
            return None;
        }
    };
    match weights(&text, attachments.may_be_quoted()) {
        Ok(sorted_kg) => Some(WeighIns { name, sorted_kg, text }),
        Err(errors) => {
            for RowError { line, problem, fix } in errors {
                let line = line.map_or_else(String::new, |line| format!(":{line}"));
                add_fault(format!("{name}{line}: {problem}"), &fix);
            }
            None
        }
    }
}

fn text_of_file(path: &Path) -> Result<String, String> {
    // A pipe or a device could keep the reader waiting for ever.
    if path.exists() && !path.is_file() {
        return Err("is no plain file".to_owned());
    }
    let mut bytes = Vec::new();
    let read = File::open(path).and_then(|file| file.take(MAX_BYTES + 1).read_to_end(&mut bytes));
    match read {
        Err(error) if error.kind() == ErrorKind::NotFound => Err("does not exist".to_owned()),
        Err(error) => Err(format!("cannot be read: {}", system_problem(&error).0)),
        Ok(_) if bytes.len() as u64 > MAX_BYTES => Err(format!("is larger than {MAX_BYTES} bytes")),
        Ok(_) => String::from_utf8(bytes).map_err(|_| "is not plain text in UTF-8".to_owned()),
    }
}

/// One thing that is wrong with the file.
#[derive(Debug, PartialEq)]
struct RowError {
    line: Option<u64>,
    problem: String,
    fix: String,
}

impl RowError {
    fn new(line: Option<u64>, problem: impl Into<String>, fix: impl Into<String>) -> Self {
        Self { line, problem: problem.into(), fix: fix.into() }
    }
}

/// The weights of a CSV text in ascending order [kg], or everything that is wrong with it, with the cells in question if
/// they may be quoted.
fn weights(text: &str, may_be_quoted: bool) -> Result<Vec<f64>, Vec<RowError>> {
    let mut rows =
        csv::ReaderBuilder::new().trim(csv::Trim::All).flexible(true).from_reader(text.as_bytes());
    let headers = rows.headers().cloned().unwrap_or_default();
    let Some(column) = headers.iter().position(|head| head.eq_ignore_ascii_case(COLUMN)) else {
        let heads: Vec<&str> = headers.iter().collect();
        let first = match may_be_quoted {
            true => format!("; the first line is {}", quoted(&heads.join(","))),
            false => String::new(),
        };
        let problem = format!("no column is headed {COLUMN}{first}");
        let fix = format!("give the column of weights the heading {COLUMN}");
        return Err(vec![RowError::new(Some(1), problem, fix)]);
    };
    let (mut sorted_kg, mut errors) = (Vec::new(), Vec::new());
    for row in rows.into_records() {
        match row {
            Ok(row) => {
                let line = row.position().map(csv::Position::line);
                match weight_kg(row.get(column).unwrap_or("")) {
                    Ok(kg) => sorted_kg.push(kg),
                    Err((problem, fix)) if may_be_quoted => {
                        errors.push(RowError::new(line, problem, fix));
                    }
                    Err(_) => {
                        let fix = format!("a weigh-in is 0 kg to {MAX_KG} kg, as \"12 kg\"");
                        errors.push(RowError::new(line, "the weight is not a weigh-in", fix));
                    }
                }
            }
            Err(error) => {
                let line = error.position().map(csv::Position::line);
                let problem = "cannot be read as a row of a table";
                errors.push(RowError::new(line, problem, "check its quotation marks"));
            }
        }
    }
    if errors.is_empty() && sorted_kg.len() < MIN_WEIGH_INS {
        let problem = format!("{} weigh-ins are too few", sorted_kg.len());
        let fix = format!("give at least {MIN_WEIGH_INS}, or write section.weight");
        errors.push(RowError::new(None, problem, fix));
    }
    sorted_kg.sort_by(f64::total_cmp);
    if errors.is_empty() { Ok(sorted_kg) } else { Err(errors) }
}

/// One weigh-in [kg], or what is wrong with it and how to fix it.
fn weight_kg(text: &str) -> Result<f64, (String, String)> {
    match read_quantity(text, Dimension::Mass) {
        Ok(kg) if (0.0..=MAX_KG).contains(&kg) => Ok(kg),
        Ok(_) => Err((
            format!("{} is not a weigh-in", quoted(text)),
            format!("a weigh-in is 0 kg to {MAX_KG} kg"),
        )),
        Err(error) => Err((error.problem, error.fix)),
    }
}
