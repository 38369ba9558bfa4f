//! Reads the text of a log.

use sha2::{Digest, Sha256};

use super::cast::CatchLog;
use super::columns::{
    BITE_AT, CAST_AT, FEEDER, Header, LOG_COLUMNS, LOOSE_FEED, RECAST_AT, WEIGHT,
    catch_log_template, delimiter,
};
use super::order::sessions;
use super::row::RowReader;
use crate::scenario::{Diagnostic, Diagnostics, SourceLocation, Units};

/// Reads the text of a log; `name` becomes its name, and `shown` is the file's name in faults.
///
/// # Errors
///
/// Everything that is wrong with the text, each fault with its row, its column and how to fix it.
///
/// ```
/// let text = "session,cast_at,line,recast_at,bite_at\n\
///             sunday,9:00:00,far-bank,9:02:00,\n\
///             sunday,9:02:40,far-bank,,9:03:10\n";
/// let log = sim::catch_log::read_catch_log(text, "pond", "pond.csv").expect("nothing is wrong with it");
/// assert_eq!(log.sessions[0].casts[0].wait_s(), Some(120.0));
///
/// let faults = sim::catch_log::read_catch_log("session,cast_at\nsunday,9.00\n", "pond", "pond.csv");
/// assert_eq!(faults.expect_err("three columns are missing, and a time is none").list().len(), 4);
/// ```
pub fn read_catch_log(text: &str, name: &str, shown: &str) -> Result<CatchLog, Diagnostics> {
    let mut faults = Diagnostics::default();
    if text.trim().is_empty() {
        let fix = "write a row for each cast; `learn --template` writes the header, and says what stands where";
        faults.add(Diagnostic::new(&SourceLocation::File, "", "is empty", fix));
        return Err(faults.in_file(shown));
    }
    if !has_a_column(text) {
        let fix = "the first line names the columns: `learn --template` writes it, and says what stands where";
        let problem = "has no column of a catch log";
        faults.add(Diagnostic::new(&SourceLocation::Line(1), "", problem, fix));
        return Err(faults.in_file(shown));
    }
    let log = read(text, name, &mut faults);
    if faults.is_empty() { Ok(log) } else { Err(faults.in_file(shown)) }
}

/// Whether the first line names at least one column of a log. Otherwise it is some other file, and faults of its rows would
/// say nothing.
fn has_a_column(text: &str) -> bool {
    let is_column =
        |head: &str| LOG_COLUMNS.iter().any(|column| head.trim().eq_ignore_ascii_case(column.name));
    log_rows(without_mark(text)).headers().is_ok_and(|heads| heads.iter().any(is_column))
}

fn read(text: &str, name: &str, faults: &mut Diagnostics) -> CatchLog {
    let text = without_mark(text);
    let mut rows = log_rows(text);
    let heads = rows.headers().cloned().unwrap_or_default();
    let header = Header::read(&heads, faults);
    let mut casts = Vec::new();
    let mut usage = Usage::default();
    for row in rows.records() {
        let row = match row {
            Ok(row) => row,
            Err(error) => {
                let line = error.position().map_or(1, csv::Position::line) as usize;
                let fix = "check its quotation marks";
                let problem = "cannot be read as a row of a table";
                faults.add(Diagnostic::new(&SourceLocation::Line(line), "", problem, fix));
                continue;
            }
        };
        let number = row.position().map_or(1, |position| row_start(text, position).1);
        if row.iter().all(str::is_empty) {
            continue;
        }
        if row.len() != header.width {
            let problem =
                format!("the row has {} fields, and the header has {}", row.len(), header.width);
            let fix = "add or remove separators; a text that contains one needs quotation marks";
            faults.add(Diagnostic::new(&SourceLocation::Line(number), "", problem, fix));
            continue;
        }
        usage.add(&header, &row);
        casts.extend(RowReader { header: &header, row: &row, number, faults }.read());
    }
    if casts.is_empty() && faults.is_empty() {
        let fix = format!(
            "write a row for each cast below the header {}",
            catch_log_template().trim_end()
        );
        faults.add(Diagnostic::new(&SourceLocation::File, "", "there is no cast in it", fix));
    }
    CatchLog {
        name: name.to_owned(),
        sha256: Sha256::digest(text.as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect(),
        sessions: sessions(casts, faults),
        time_unit_s: if usage.has_seconds { 1.0 } else { 60.0 },
        units: if usage.has_pounds { Units::Imperial } else { Units::Metric },
    }
}

/// Where a row begins in a text without the mark before it: its byte, and its line counted from 1. Blank lines before it
/// are passed over.
pub(super) fn row_start(text: &str, position: &csv::Position) -> (usize, usize) {
    let byte = position.byte() as usize;
    let rest = text.get(byte..).unwrap_or_default();
    let blank = rest.len() - rest.trim_start_matches(['\r', '\n']).len();
    let lines = rest[..blank].matches('\n').count();
    (byte + blank, position.line() as usize + lines)
}

/// A text without the mark that some programs put at its beginning.
pub(super) fn without_mark(text: &str) -> &str {
    text.strip_prefix('\u{feff}').unwrap_or(text)
}

/// The rows of a text, without the mark that some programs put at its beginning.
pub(super) fn log_rows(text: &str) -> csv::Reader<&[u8]> {
    let text = without_mark(text);
    csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .flexible(true)
        .delimiter(delimiter(text))
        .from_reader(text.as_bytes())
}

/// How the log is written.
#[derive(Default)]
struct Usage {
    has_seconds: bool,
    has_pounds: bool,
}

impl Usage {
    fn add(&mut self, header: &Header, row: &csv::StringRecord) {
        let is_whole_minute =
            |text: &str| text.split(':').nth(2).is_none_or(|seconds| seconds == "00");
        self.has_seconds |= [CAST_AT, RECAST_AT, BITE_AT]
            .iter()
            .any(|&column| !is_whole_minute(header.field(row, column)));
        self.has_pounds |= [WEIGHT, FEEDER, LOOSE_FEED].iter().any(|&column| {
            let text = header.field(row, column);
            text.contains("lb") || text.contains("oz")
        });
    }
}
