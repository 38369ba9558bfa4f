//! The columns of a log, and how its header is read.

use crate::scenario::{Diagnostic, Diagnostics, SourceLocation, nearest_name, quoted};

/// A column of the log.
#[derive(Debug)]
pub struct LogColumn {
    /// Its heading.
    pub name: &'static str,
    /// What is written in it.
    pub meaning: &'static str,
    /// Whether a log must have it.
    pub is_required: bool,
}

/// Number of columns.
const COLUMNS: usize = 15;
/// Number of columns of the template; the others are for logs that need them.
const TEMPLATE_COLUMNS: usize = 13;

/// Every column: those of the template in its order, then the others.
pub static LOG_COLUMNS: [LogColumn; COLUMNS] = [
    column("session", "a name for the day's fishing, the same in all its rows", true),
    column("date", "YYYY-MM-DD", false),
    column("cast_at", "when you cast: h:mm:ss or h:mm, on the clock or since the start", true),
    column("line", "where you cast to", true),
    column("recast_at", "when you wound in; may stay empty after a bite", true),
    column("bite_at", "when the bite came; empty if there was none", true),
    column("landed", "yes or no, after a bite", false),
    column("weight", "of the fish, with its unit: 3 lb 4 oz or 1.5 kg", false),
    column("species", "of the fish", false),
    column("bait", "hookbait or mix", false),
    column("feeder", "what the feeder held: 25 g", false),
    column("loose_feed", "what you threw in with this cast: 1 pint or 100 g", false),
    column(
        "note",
        "begins with snag, robbed or moved if that ended a cast without a bite; otherwise free",
        false,
    ),
    column("line_strength", "load at which the fishing line or hooklength breaks: 5 lb", false),
    column("hook", "small, middling or strong", false),
];

pub(super) const SESSION: usize = 0;
pub(super) const DATE: usize = 1;
pub(super) const CAST_AT: usize = 2;
pub(super) const LINE: usize = 3;
pub(super) const RECAST_AT: usize = 4;
pub(super) const BITE_AT: usize = 5;
pub(super) const LANDED: usize = 6;
pub(super) const WEIGHT: usize = 7;
pub(super) const SPECIES: usize = 8;
pub(super) const BAIT: usize = 9;
pub(super) const FEEDER: usize = 10;
pub(super) const LOOSE_FEED: usize = 11;
pub(super) const NOTE: usize = 12;
pub(super) const LINE_STRENGTH: usize = 13;
pub(super) const HOOK: usize = 14;

const fn column(name: &'static str, meaning: &'static str, is_required: bool) -> LogColumn {
    LogColumn { name, meaning, is_required }
}

/// An empty log: its header.
#[must_use]
pub fn catch_log_template() -> String {
    header(TEMPLATE_COLUMNS)
}

/// The header of a log that states line strength and hook.
pub(super) fn full_header() -> String {
    header(COLUMNS)
}

fn header(columns: usize) -> String {
    let names: Vec<&str> = LOG_COLUMNS.iter().take(columns).map(|column| column.name).collect();
    format!("{}\n", names.join(","))
}

/// Where each column stands in a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Header {
    /// For each of [`LOG_COLUMNS`] its position in a row.
    positions: [Option<usize>; COLUMNS],
    /// Number of fields in a row.
    pub(super) width: usize,
}

impl Header {
    /// Reads the heads of the columns; adds what is wrong with them to `faults`.
    pub(super) fn read(heads: &csv::StringRecord, faults: &mut Diagnostics) -> Self {
        let mut positions = [None; COLUMNS];
        let place = SourceLocation::Line(1);
        let names = || LOG_COLUMNS.iter().map(|column| column.name);
        for (position, head) in heads.iter().enumerate().filter(|(_, head)| !head.is_empty()) {
            match names().position(|name| head.eq_ignore_ascii_case(name)) {
                Some(column) if positions[column].is_some() => faults.add(Diagnostic::new(
                    &place,
                    names().nth(column).unwrap_or_default(),
                    "there are two columns of this name",
                    "remove one of them",
                )),
                Some(column) => positions[column] = Some(position),
                None => {
                    let problem = format!("{} is not a column of a catch log", quoted(head));
                    let all: Vec<&str> = names().collect();
                    let fix = format!("the columns are {}", all.join(", "));
                    let fault = Diagnostic::new(&place, "", problem, fix);
                    faults.add(fault.near(nearest_name(head, names())));
                }
            }
        }
        for (column, position) in LOG_COLUMNS.iter().zip(positions) {
            if column.is_required && position.is_none() {
                let fix = format!("add it: {}", column.meaning);
                faults.add(Diagnostic::new(&place, column.name, "this column is missing", fix));
            }
        }
        Self { positions, width: heads.len() }
    }

    /// The field of a column in a row; empty if the file does not have the column.
    pub(super) fn field<'a>(&self, row: &'a csv::StringRecord, column: usize) -> &'a str {
        self.positions[column].and_then(|position| row.get(position)).unwrap_or("")
    }

    /// Where a column stands. `None` if the file does not have it.
    pub(super) fn position(&self, column: usize) -> Option<usize> {
        self.positions[column]
    }
}

/// The character between fields: a semicolon if the first line has one and no comma, as some spreadsheets write it.
pub(super) fn delimiter(text: &str) -> u8 {
    let first = text.lines().next().unwrap_or_default();
    if first.contains(';') && !first.contains(',') { b';' } else { b',' }
}
