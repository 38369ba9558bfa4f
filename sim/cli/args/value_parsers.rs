//! Parsers for the values of options; each error says what to write.

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
