//! The bank log on the page: what was tapped, as a catch log. The page keeps the taps; nothing is stored here.

use serde_json::{Value, json};

use super::error::ApiError;
use super::request::RequestQuery;
use crate::catch_log::{BankEntry, BankLog, clock_text};

/// Longest day of fishing, from its midnight [s]; a session may go on into the next day.
const MAX_TIME_S: f64 = 36.0 * 3600.0;

/// Largest number of entries of a log on the page; a day has some hundreds.
const MAX_ENTRIES: usize = 2_000;

/// The log that entries make, from the first to the last.
///
/// Each line of `entries` is a time in seconds since midnight, a blank, and what would be typed for `shoalwise log`. An
/// entry that cannot be recorded is refused in words; the page then takes it back.
pub(super) fn bank_log(query: &RequestQuery, entries: &str) -> Result<Value, ApiError> {
    let (session, date) = (query.required("session")?, query.required("date")?);
    if entries.lines().count() > MAX_ENTRIES {
        let message =
            format!("a log of more than {MAX_ENTRIES} entries; download it and begin a new one");
        return Err(ApiError::bad_request(message));
    }
    let mut log = BankLog::open("", "this log", session, date)?;
    let mut said = Vec::new();
    for written in entries.lines() {
        let (time_s, entry) = timed(written)?;
        let words = log.record(&entry, time_s).map_err(ApiError::bad_request)?;
        said.push(json!([clock_text(time_s), words]));
    }
    let [line, bait, feeder] = log.next_cast();
    Ok(json!({
        "text": log.text(),
        "said": said,
        "is_bait_out": log.is_bait_out(),
        "awaits_end": log.awaits_end(),
        "next": { "line": line, "bait": bait, "feeder": feeder },
    }))
}

/// One entry with its time.
fn timed(written: &str) -> Result<(f64, BankEntry), ApiError> {
    let wrong = || ApiError::bad_request(format!("{written:?} is no entry with its time"));
    let (seconds, typed) = written.split_once(' ').ok_or_else(wrong)?;
    let time_s: f64 = seconds.parse().map_err(|_| wrong())?;
    if !(0.0..MAX_TIME_S).contains(&time_s) {
        return Err(wrong());
    }
    let parsed = BankEntry::parse(typed).map_err(ApiError::bad_request)?;
    let timed = parsed.filter(|timed| timed.time_s.is_none()).ok_or_else(wrong)?;
    match timed.entry {
        BankEntry::Undo | BankEntry::Help | BankEntry::Quit => Err(wrong()),
        entry => Ok((time_s, entry)),
    }
}
