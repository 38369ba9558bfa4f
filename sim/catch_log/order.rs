//! Checks between the casts of a session, and times that go on past midnight.

use super::cast::{CastEnd, LoggedCast, LoggedSession};
use super::clock::clock_text;
use super::columns::{BITE_AT, CAST_AT, LOG_COLUMNS};
use super::row::LogRow;
use crate::scenario::{Diagnostic, Diagnostics, SourceLocation, quoted};

const DAY_S: f64 = 86_400.0;
const HALF_DAY_S: f64 = 43_200.0;

/// Sorts the rows into sessions, in the order in which each first appears, and checks each session.
pub(super) fn sessions(rows: Vec<LogRow>, faults: &mut Diagnostics) -> Vec<LoggedSession> {
    let mut sessions: Vec<LoggedSession> = Vec::new();
    for LogRow { session: name, date, mut cast } in rows {
        let known = sessions.iter().rposition(|session| session.name == name);
        let at = known.unwrap_or_else(|| {
            sessions.push(LoggedSession { name, date: date.clone(), casts: Vec::new() });
            sessions.len() - 1
        });
        let session = &mut sessions[at];
        if let Some(before) = session.casts.last() {
            count_on_past_midnight(&mut cast, before);
            check_order(&cast, before, faults);
        }
        session.date = session.date.take().or(date);
        session.casts.push(cast);
    }
    for session in &sessions {
        check_lines(session, faults);
    }
    sessions
}

/// Adds whole days to a cast that follows another one of the same session after midnight.
fn count_on_past_midnight(cast: &mut LoggedCast, before: &LoggedCast) {
    while cast.cast_s < before.cast_s - HALF_DAY_S {
        cast.cast_s += DAY_S;
        if let Some(CastEnd { at_s, wound_in_s, .. }) = &mut cast.end {
            *at_s += DAY_S;
            *wound_in_s = wound_in_s.map(|wound_in_s| wound_in_s + DAY_S);
        }
    }
}

fn check_order(cast: &LoggedCast, before: &LoggedCast, faults: &mut Diagnostics) {
    if cast.cast_s < before.cast_s {
        let at = clock_text(before.cast_s % DAY_S);
        let problem = format!("is before the cast at {at} in row {}", before.row);
        let fix = "put the rows of a session in order of time, or correct the time";
        add(faults, cast.row, CAST_AT, problem, fix);
    }
}

/// On each line, a cast ends before the next one begins.
fn check_lines(session: &LoggedSession, faults: &mut Diagnostics) {
    for (index, cast) in session.casts.iter().enumerate() {
        let later = &session.casts[index + 1..];
        let Some(next) = later.iter().find(|next| next.line == cast.line) else { continue };
        let ended_s = cast.end.as_ref().map(|end| end.wound_in_s.unwrap_or(end.at_s));
        match ended_s {
            None => {
                let problem = format!(
                    "is empty like recast_at, but {} was cast to again in row {}",
                    quoted(&cast.line),
                    next.row
                );
                add(
                    faults,
                    cast.row,
                    BITE_AT,
                    problem,
                    "write when the bite came or when you wound in",
                );
            }
            Some(ended_s) if ended_s > next.cast_s && next.cast_s >= cast.cast_s => {
                let problem = format!(
                    "is before the cast of row {} to {} had ended, at {}",
                    cast.row,
                    quoted(&cast.line),
                    clock_text(ended_s % DAY_S)
                );
                let fix = "correct one of the times; two rods on one spot need two names of lines";
                add(faults, next.row, CAST_AT, problem, fix);
            }
            Some(_) => {}
        }
    }
}

fn add(faults: &mut Diagnostics, row: usize, column: usize, problem: String, fix: &str) {
    let place = SourceLocation::Line(row);
    faults.add(Diagnostic::new(&place, LOG_COLUMNS[column].name, problem, fix));
}
