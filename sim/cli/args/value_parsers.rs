//! Parsers for the values of options; each error says what to write.

use crate::catch_log::read_clock_s;
use crate::scenario::read_duration_s;
use crate::study::{MAX_CONFIRMATION_DAYS, MAX_POINTS, Shard};

pub(super) fn seed(text: &str) -> Result<u64, String> {
    text.parse().map_err(|_| "give a whole number, 0 or more".to_owned())
}

/// Parses a number of days.
pub(super) fn days(text: &str) -> Result<u32, String> {
    let days: u64 = whole(text, "days")?;
    if days < 2 {
        return Err("give at least 2: one day does not show how days differ".to_owned());
    }
    if days > u64::from(MAX_CONFIRMATION_DAYS) {
        return Err(format!("give at most {MAX_CONFIRMATION_DAYS}; 3200 decide most verdicts"));
    }
    Ok(days as u32)
}

/// Parses a whole number of `what`; one that does not fit 64 bits is the largest that does, and so beyond every limit.
fn whole(text: &str, what: &str) -> Result<u64, String> {
    let is_whole = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    match text.parse() {
        Ok(number) => Ok(number),
        Err(_) if is_whole => Ok(u64::MAX),
        Err(_) => Err(format!("give a whole number of {what}")),
    }
}

/// Parses the number of sessions of a search.
pub(super) fn search_sessions(text: &str) -> Result<u32, String> {
    /// Some weeks on one core.
    const MAX_SESSIONS: u32 = 100_000_000;
    let sessions = whole(text, "sessions")?;
    if sessions > u64::from(MAX_SESSIONS) {
        return Err(format!("give at most {MAX_SESSIONS}"));
    }
    Ok(sessions as u32)
}

pub(super) fn day(text: &str) -> Result<u32, String> {
    let day = text.parse().map_err(|_| "give the number of a day".to_owned())?;
    if day == 0 {
        return Err("days are counted from 1".to_owned());
    }
    Ok(day)
}

pub(super) fn points(text: &str) -> Result<u32, String> {
    let points = text.parse().map_err(|_| "give a whole number of points".to_owned())?;
    if !(1..=MAX_POINTS).contains(&(points as usize)) {
        return Err(format!("give 1 to {MAX_POINTS}"));
    }
    Ok(points)
}

/// Parses a number of logs to simulate.
pub(super) fn simulated_logs(text: &str) -> Result<u32, String> {
    const RANGE: std::ops::RangeInclusive<u32> = 200..=200_000;
    let logs = text.parse().map_err(|_| "give a whole number of logs".to_owned())?;
    if RANGE.contains(&logs) { Ok(logs) } else { Err("give 200 to 200000".to_owned()) }
}

/// Parses the number of sessions that `now` simulates.
pub(super) fn now_sessions(text: &str) -> Result<u32, String> {
    const RANGE: std::ops::RangeInclusive<u32> = 40..=20_000;
    let sessions = text.parse().map_err(|_| "give a whole number of sessions".to_owned())?;
    if RANGE.contains(&sessions) { Ok(sessions) } else { Err("give 40 to 20000".to_owned()) }
}

/// Recast intervals of practices [s].
#[derive(Clone, Debug, PartialEq)]
pub(in crate::cli) struct Intervals(pub(in crate::cli) Vec<f64>);

/// Parses recast intervals, separated by commas.
pub(super) fn intervals(text: &str) -> Result<Intervals, String> {
    const MAX: usize = 6;
    let times: Result<Vec<f64>, String> =
        text.split(',').map(|time| recast_time(time.trim())).collect();
    let times = times?;
    if times.len() > MAX {
        return Err(format!("give at most {MAX} intervals"));
    }
    Ok(Intervals(times))
}

/// Parses the time that one has for a practice [s].
pub(super) fn practice_time(text: &str) -> Result<f64, String> {
    const RANGE: std::ops::RangeInclusive<f64> = 600.0..=43_200.0;
    let time_s = read_duration_s(text)?;
    if RANGE.contains(&time_s) { Ok(time_s) } else { Err("give 10 min to 12 h".to_owned()) }
}

/// Parses a number of waters to simulate.
pub(super) fn waters(text: &str) -> Result<u32, String> {
    const RANGE: std::ops::RangeInclusive<u32> = 100..=20_000;
    let waters = text.parse().map_err(|_| "give a whole number of waters".to_owned())?;
    if RANGE.contains(&waters) { Ok(waters) } else { Err("give 100 to 20000".to_owned()) }
}

/// Parses a time as a log writes it [s].
pub(super) fn log_time(text: &str) -> Result<f64, String> {
    read_clock_s(text).ok_or_else(|| "write h:mm or h:mm:ss, as in 11:40".to_owned())
}

pub(super) fn share(text: &str) -> Result<Shard, String> {
    text.parse()
}

pub(super) fn threads(text: &str) -> Result<usize, String> {
    let threads = text.parse().map_err(|_| "give a whole number of threads".to_owned())?;
    if !(1..=1024).contains(&threads) {
        return Err("give 1 to 1024".to_owned());
    }
    Ok(threads)
}

/// Parses the time of a recast [s].
pub(super) fn recast_time(text: &str) -> Result<f64, String> {
    const MAX_S: f64 = 3600.0;
    let time_s = read_duration_s(text)?;
    if time_s > 0.0 && time_s <= MAX_S { Ok(time_s) } else { Err("give 1 s to 1 h".to_owned()) }
}
