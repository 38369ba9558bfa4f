//! Date and clock times, from their keys.

use crate::scenario::diagnose::{Diagnostics, quoted};
use crate::scenario::schema::{FullKey, session};
use crate::scenario::values::ValueTable;
use crate::water::{Clock, Date, Location, SolarDay};

/// When the session takes place. `None` if the scenario has no date.
pub(super) fn clock(table: &ValueTable, faults: &mut Diagnostics) -> Option<Clock> {
    let start = table.value(&session::START);
    let start_s = clock_time_s(&start);
    if start_s.is_none() {
        let problem = format!("{} is not a clock time", quoted(&start));
        let fix = "write hours and minutes, such as \"10:00\"";
        faults.add(table.fault(session::START.dotted(), problem, fix));
    }
    let written = table.given(&session::DATE)?;
    let parts: Vec<&str> = written.split('-').collect();
    let date = match parts[..] {
        [year, month, day] => year.parse().ok().zip(month.parse().ok()).zip(day.parse().ok()),
        _ => None,
    };
    let date = date.and_then(|((year, month), day)| Date::new(year, month, day));
    if date.is_none() {
        let problem = format!("{} is not a date from 1800 to 2100", quoted(&written));
        let fix = "write year, month and day, such as \"2026-07-04\"";
        faults.add(table.fault(session::DATE.dotted(), problem, fix));
    }
    let location = Location { latitude_deg: table.value(&session::LATITUDE), longitude_deg: 0.0 };
    let day = SolarDay { location, date: date?, utc_offset_s: table.value(&session::UTC_OFFSET) };
    Some(Clock { day, start_s: start_s? })
}

/// A clock time such as 10:00 [s since midnight].
pub(super) fn clock_time_s(text: &str) -> Option<f64> {
    let (hours, minutes) = text.split_once(':')?;
    let (hours, minutes) = (hours.parse::<u32>().ok()?, minutes.parse::<u32>().ok()?);
    (hours < 24 && minutes < 60).then(|| f64::from(3600 * hours + 60 * minutes))
}
