//! Times of a log: `h:mm:ss` or `h:mm`, on the clock or since the start.

/// Largest number of hours; a session may go on past midnight.
const MAX_HOURS: u32 = 99;

/// Reads a time, `h:mm:ss` or `h:mm` [s]. `None` if it is not one.
#[must_use]
pub fn read_clock_s(text: &str) -> Option<f64> {
    let mut parts = text.split(':');
    let (hours, minutes, seconds) = (parts.next()?, parts.next()?, parts.next().unwrap_or("00"));
    let number = |digits: &str, max: u32| {
        let is_number = matches!(digits.len(), 1 | 2) && digits.bytes().all(|b| b.is_ascii_digit());
        digits.parse::<u32>().ok().filter(|&number| is_number && number <= max)
    };
    let is_full = |digits: &str| digits.len() == 2;
    if parts.next().is_some() || !is_full(minutes) || !is_full(seconds) {
        return None;
    }
    let (hours, minutes) = (number(hours, MAX_HOURS)?, number(minutes, 59)?);
    Some(f64::from(3600 * hours + 60 * minutes + number(seconds, 59)?))
}

/// A time [s] as it is written in a log, `h:mm:ss`, in whole seconds.
#[must_use]
pub fn clock_text(time_s: f64) -> String {
    let seconds = time_s.max(0.0).round() as u64;
    format!("{}:{:02}:{:02}", seconds / 3600, seconds / 60 % 60, seconds % 60)
}
