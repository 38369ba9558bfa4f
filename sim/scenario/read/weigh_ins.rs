//! Past weigh-ins of rivals, from a table that lies beside the scenario file.

use crate::scenario::diagnose::{Fault, Faults, quoted};
use crate::scenario::schema::{Dimension, read_quantity};
use crate::scenario::values::ValueTable;
use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};

/// The key that names the file.
pub(crate) const KEY: &str = "section.weigh_ins";
/// The column that is read; others may stand beside it.
const COLUMN: &str = "weight";
/// Fewer figures than this say too little of how rivals differ.
const FEWEST: usize = 5;
/// Largest file read [bytes].
const MOST_BYTES: u64 = 1_000_000;
/// Heaviest weigh-in that is one [kg].
const MOST_KG: f64 = 1000.0;

/// What was read.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct WeighIns {
    /// Weights in order of size [kg].
    pub(crate) sorted_kg: Vec<f64>,
    /// The file as it was.
    pub(crate) text: String,
}

/// Where what a scenario names is found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Attachments {
    /// Nowhere.
    Nothing,
    /// By its path from this folder.
    In(PathBuf),
    /// In this very folder and nowhere else.
    Within(PathBuf),
    /// It was read before, and this is its text.
    Kept(String),
}

impl Attachments {
    fn text_of(&self, name: &str) -> Result<String, String> {
        match self {
            Self::Nothing => {
                Err("is not at hand: this scenario was not read from a file".to_owned())
            }
            Self::In(folder) => text_of(&folder.join(name)),
            Self::Within(folder) => {
                let inside = || {
                    let real = folder.join(name).canonicalize().ok()?;
                    Some(real.parent()? == folder.canonicalize().ok()?)
                };
                match Path::new(name).file_name() {
                    Some(plain) if plain == name && inside() != Some(false) => {
                        text_of(&folder.join(plain))
                    }
                    _ => Err("does not lie in the scenario's own folder".to_owned()),
                }
            }
            Self::Kept(text) => Ok(text.clone()),
        }
    }
}

/// Reads the table that the scenario names, if it names one.
pub(crate) fn weigh_ins(
    sheet: &ValueTable,
    beside: &Attachments,
    faults: &mut Faults,
) -> Option<WeighIns> {
    let name = sheet.given_text(KEY)?;
    let mut fault = |wrong: String, mend: String| {
        faults.add(Fault::new(&sheet.place(KEY), KEY, wrong, mend));
    };
    let text = match beside.text_of(&name) {
        Ok(text) => text,
        Err(why) => {
            let mend =
                "name a CSV file by its path from the scenario file, or write section.weight";
            fault(format!("{} {why}", quoted(&name)), mend.to_owned());
            return None;
        }
    };
    match figures(&text) {
        Ok(sorted_kg) => Some(WeighIns { sorted_kg, text }),
        Err(found) => {
            for RowError { line, wrong, mend } in found {
                let at = line.map_or_else(String::new, |line| format!(":{line}"));
                fault(format!("{name}{at}: {wrong}"), mend);
            }
            None
        }
    }
}

fn text_of(path: &Path) -> Result<String, String> {
    let mut bytes = Vec::new();
    let read = File::open(path).and_then(|file| file.take(MOST_BYTES + 1).read_to_end(&mut bytes));
    match read {
        Err(why) if why.kind() == std::io::ErrorKind::NotFound => Err("is not there".to_owned()),
        Err(why) => Err(format!("cannot be read: {why}")),
        Ok(_) if bytes.len() as u64 > MOST_BYTES => {
            Err(format!("is larger than {MOST_BYTES} bytes"))
        }
        Ok(_) => String::from_utf8(bytes).map_err(|_| "is not plain text in UTF-8".to_owned()),
    }
}

/// One thing that is wrong with the table.
#[derive(Debug, PartialEq)]
struct RowError {
    line: Option<u64>,
    wrong: String,
    mend: String,
}

/// The figures of a table in order of size [kg], or all that is wrong with it.
fn figures(text: &str) -> Result<Vec<f64>, Vec<RowError>> {
    let mut rows =
        csv::ReaderBuilder::new().trim(csv::Trim::All).flexible(true).from_reader(text.as_bytes());
    let one = |line, wrong: String, mend: String| RowError { line, wrong, mend };
    let headers = rows.headers().cloned().unwrap_or_default();
    let Some(column) = headers.iter().position(|head| head.eq_ignore_ascii_case(COLUMN)) else {
        let heads: Vec<&str> = headers.iter().collect();
        let wrong = format!(
            "no column is headed {COLUMN}; the first line says {}",
            quoted(&heads.join(","))
        );
        let mend = format!("head the column of weights with the word {COLUMN}");
        return Err(vec![one(Some(1), wrong, mend)]);
    };
    let (mut sorted_kg, mut unfit) = (Vec::new(), Vec::new());
    for row in rows.into_records() {
        let row = match row {
            Ok(row) => row,
            Err(why) => {
                let line = why.position().map(csv::Position::line);
                unfit.push(one(
                    line,
                    "cannot be read as a row of a table".to_owned(),
                    "see to its quotation marks".to_owned(),
                ));
                continue;
            }
        };
        let line = row.position().map(csv::Position::line);
        let written = row.get(column).unwrap_or("");
        match read_quantity(written, Dimension::Mass) {
            Ok(kg) if (0.0..=MOST_KG).contains(&kg) => sorted_kg.push(kg),
            Ok(_) => unfit.push(one(
                line,
                format!("{} is no weigh-in", quoted(written)),
                format!("a weigh-in is 0 kg to {MOST_KG} kg"),
            )),
            Err(why) => unfit.push(one(line, why.wrong, why.mend)),
        }
    }
    if unfit.is_empty() && sorted_kg.len() < FEWEST {
        let wrong = format!("{} weigh-ins say too little", sorted_kg.len());
        unfit.push(one(None, wrong, format!("give {FEWEST} at least, or write section.weight")));
    }
    sorted_kg.sort_by(f64::total_cmp);
    if unfit.is_empty() { Ok(sorted_kg) } else { Err(unfit) }
}
