//! Parsers for the values of options; each error says what to write.

use crate::catch_log::read_clock_s;
use crate::scenario::read_duration_s;
use crate::study::{MAX_POINTS, Shard};

pub(super) fn seed(text: &str) -> Result<u64, String> {
    text.parse().map_err(|_| "give a whole number, 0 or more".to_owned())
}

pub(super) fn days(text: &str) -> Result<u32, String> {
    let days = text.parse().map_err(|_| "give a whole number of days".to_owned())?;
    if days < 2 {
        return Err("give at least 2: one day does not show how days differ".to_owned());
    }
    Ok(days)
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
