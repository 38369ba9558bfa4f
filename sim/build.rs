//! Build script: records the commit for the stamp on every result, and writes the structs of the books.

use std::fmt::Write;
use std::path::Path;
use std::process::Command;
use std::{env, fs};

/// Books of parameters: the folder below `sim/`, the struct and what it holds.
const BOOKS: [(&str, &str, &str); 4] = [
    ("water", "WaterParams", "What the model takes from outside about moving water."),
    (
        "bait",
        "BaitParams",
        "What the model takes from outside about bait on a feeder and on the bed.",
    ),
    ("fish", "FishParams", "What the model takes from outside about fish."),
    (
        "angler",
        "AnglerParams",
        "What the model takes from outside about tackle and the person holding it.",
    ),
];

fn main() {
    // A path that does not exist would rebuild everything each time, as in a second work tree.
    for path in [".git/HEAD", ".git/refs/heads", "sim/build.rs"] {
        if Path::new(path).exists() {
            println!("cargo:rerun-if-changed={path}");
        }
    }
    let commit = Command::new("git")
        .args(["rev-parse", "--short=12", "HEAD"])
        .output()
        .ok()
        .filter(|output| output.status.success())
        .and_then(|output| String::from_utf8(output.stdout).ok())
        .map_or_else(|| "unknown".to_owned(), |text| text.trim().to_owned());
    println!("cargo:rustc-env=SHOALWISE_COMMIT={commit}");
    let target = env::var("TARGET").unwrap_or_else(|_| "unknown".to_owned());
    println!("cargo:rustc-env=SHOALWISE_TARGET={target}");
    let folder = env::var("OUT_DIR").expect("Cargo names the folder for generated files");
    for (subject, name, about) in BOOKS {
        let path = format!("sim/{subject}/params.toml");
        println!("cargo:rerun-if-changed={path}");
        let text = fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"));
        let code = book_struct(&path, &text, subject, name, about);
        let file = Path::new(&folder).join(format!("{subject}_params.rs"));
        fs::write(&file, code).unwrap_or_else(|error| panic!("{}: {error}", file.display()));
    }
}

/// The call of `book_struct!` for one book: a field for each row, documented by what the row says.
fn book_struct(path: &str, text: &str, subject: &str, name: &str, about: &str) -> String {
    let mut code = format!(
        "crate::params::book_struct! {{\n/// {about}\n///\n/// The values are those of one day, or the central ones.\n\
         {name} from \"{subject}\" {{\n"
    );
    for row in rows(path, text) {
        let _ = writeln!(code, "{}{},", row_docs(subject, &row), row.key);
    }
    code.push_str("}\n}\n");
    code
}

/// One row of a book, each value as it is written but without quotation marks.
#[derive(Default)]
struct BookRow<'a> {
    key: &'a str,
    values: Vec<(&'a str, &'a str)>,
}

impl BookRow<'_> {
    /// The value of a field; empty if it is not written.
    fn value(&self, field: &str) -> &str {
        self.values.iter().find(|(name, _)| *name == field).map_or("", |(_, value)| value)
    }
}

/// The rows of a book. It reads what the books need of TOML: tables, and values on one line without escapes.
///
/// The program reads the same text with a full TOML reader, and a test compares the rows of both.
fn rows<'a>(path: &str, text: &'a str) -> Vec<BookRow<'a>> {
    let mut rows: Vec<BookRow> = Vec::new();
    for (number, line) in text.lines().enumerate() {
        let line = line.trim();
        if line.is_empty() || line.starts_with('#') {
            continue;
        }
        if let Some(key) = line.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')) {
            rows.push(BookRow { key, ..BookRow::default() });
            continue;
        }
        let pair = line.split_once(" = ").filter(|(_, value)| !value.contains('\\'));
        let Some(((field, value), row)) = pair.zip(rows.last_mut()) else {
            panic!("{path}:{}: neither `[row]` nor `field = value` on one line", number + 1);
        };
        row.values.push((field, value.trim_matches('"')));
    }
    rows
}

/// Doc comment of a row: its meaning and unit, value, range, prior, note, grade and source.
fn row_docs(subject: &str, row: &BookRow) -> String {
    let mut meaning = row.value("says").to_owned();
    if let Some(first) = meaning.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    let unit = match row.value("unit") {
        "" => String::new(),
        unit => format!(" \\[{unit}\\]"),
    };
    let range = row.value("range").trim_matches(['[', ']']).replace(", ", " to ");
    let prior = match row.value("prior") {
        "fixed" => "Fixed",
        "normal" => "Normal",
        "log-normal" => "LogNormal",
        other => panic!("book.{subject}.{}: no prior is called {other}", row.key),
    };
    let mut grade = row.value("grade").to_owned();
    if let Some(first) = grade.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    let mut docs = format!(
        "/// {meaning}{unit}.\n///\n/// Central value {}, range {range}, \
         prior [`{prior}`](crate::params::Prior::{prior}).\n",
        row.value("value")
    );
    let note = row.value("note");
    if !note.is_empty() {
        let _ = writeln!(docs, "///\n/// Note: {note}.");
    }
    let _ = writeln!(docs, "///\n/// - **Key** `book.{subject}.{}`.", row.key);
    let _ = writeln!(docs, "/// - **Grade** [`{grade}`](crate::params::Grade::{grade}).");
    let sources: Vec<String> =
        row.value("source").split_whitespace().map(|key| format!("`{key}`")).collect();
    if !sources.is_empty() {
        let _ = writeln!(docs, "/// - **Source** {}.", sources.join(", "));
    }
    docs
}
