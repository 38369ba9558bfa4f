//! Values of a key, rounded for reading: `25.5 g` for `25.5346023 g`, `3 min 10 s` for `189.73666 s`.

use super::units::{duration, trimmed_number};
use super::wording::{one_line, unbroken};
use crate::numerics::{log10, powi};

/// Times from here on are shown in minutes: 119.5 s as 2 min [s].
const TWO_MINUTES_S: f64 = 119.5;
/// The same, if a value of two minutes or more stands next to it [s].
const MINUTE_S: f64 = 59.5;

/// Values rounded for reading; exactly as written if two of them would otherwise look the same.
///
/// Times of a minute or more are shown in minutes if any of the values is two minutes or more.
pub(crate) fn readable_values(written: &[&str]) -> Vec<String> {
    let seconds = |label: &&str| match number_and_unit(&without_quotes(label)) {
        Some((size, unit)) => seconds(size, unit),
        None => None,
    };
    let in_minutes = written.iter().filter_map(seconds).any(|s| s >= TWO_MINUTES_S);
    let short: Vec<String> = written.iter().map(|label| rounded(label, in_minutes)).collect();
    let distinct = |index: usize| {
        !short[..index].contains(&short[index]) || written[..index].contains(&written[index])
    };
    if (0..short.len()).all(distinct) {
        return short;
    }
    written.iter().map(|label| unbroken(&without_quotes(label))).collect()
}

/// A value to about three figures; anything but one number with one unit as it was written.
fn rounded(label: &str, in_minutes: bool) -> String {
    let label = without_quotes(label);
    let Some((size, unit)) = number_and_unit(&label) else {
        return unbroken(&label);
    };
    match seconds(size, unit) {
        Some(s) if s >= TWO_MINUTES_S || (in_minutes && s >= MINUTE_S) => duration(s),
        Some(s) if s >= 10.0 => format!("{s:.0}\u{a0}s"),
        Some(s) => format!("{}\u{a0}s", three_figures(s)),
        None if unit.is_empty() => three_figures(size),
        None => format!("{}\u{a0}{unit}", three_figures(size)),
    }
}

/// The number and the unit of a label; `None` if it is anything else.
fn number_and_unit(label: &str) -> Option<(f64, &str)> {
    let end = label.find(|c: char| !matches!(c, '0'..='9' | '.')).unwrap_or(label.len());
    let (digits, unit) = label.split_at(end);
    let unit = unit.trim();
    let size = digits.parse::<f64>().ok().filter(|size| size.is_finite())?;
    let is_one_word = !unit.contains(|c: char| c.is_whitespace() || c.is_ascii_digit());
    is_one_word.then_some((size, unit))
}

/// A time in seconds; `None` if the unit is not one of time.
fn seconds(size: f64, unit: &str) -> Option<f64> {
    match unit {
        "s" => Some(size),
        "min" => Some(60.0 * size),
        "h" => Some(3600.0 * size),
        _ => None,
    }
}

/// A number with three figures, or with all its figures before the decimal point.
fn three_figures(size: f64) -> String {
    let before = if size > 0.0 { log10(size).floor().clamp(-6.0, 2.0) } else { 0.0 };
    let shift = powi(10.0, (2.0 - before) as i32);
    trimmed_number((size * shift).round() / shift)
}

/// A label on one line, without quotation marks around it.
fn without_quotes(label: &str) -> String {
    one_line(label.trim().trim_matches(['"', '\'']))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_read_at_a_glance() {
        for (written, shown) in [
            ("25.5346023 g", "25.5 g"),
            ("120 g", "120 g"),
            ("1234.5 m", "1235 m"),
            ("0.01234 m/s", "0.0123 m/s"),
            ("47.5749953 s", "48 s"),
            ("119.644779 s", "2 min"),
            ("189.73666 s", "3 min 10 s"),
            ("1200 s", "20 min"),
            ("90 s", "90 s"),
            ("60 s", "60 s"),
            ("0.75 min", "45 s"),
            ("2 min 30 s", "2 min 30 s"),
            ("3 lb 4 oz", "3 lb 4 oz"),
            ("\"bread\"", "bread"),
            ("0.333333", "0.333"),
            ("25g", "25 g"),
            ("", ""),
        ] {
            assert_eq!(readable_values(&[written]), [shown.replace(' ', "\u{a0}")], "{written}");
        }
    }

    #[test]
    fn values_that_differ_look_different() {
        assert_eq!(readable_values(&["25.51 g", "25.52 g"]), ["25.51\u{a0}g", "25.52\u{a0}g"]);
        assert_eq!(readable_values(&["25.51 g", "25.51 g"]), ["25.5\u{a0}g", "25.5\u{a0}g"]);
    }

    #[test]
    fn times_of_one_column_are_in_one_unit() {
        assert_eq!(
            readable_values(&["30 s", "60 s", "90 s", "4 min"]).join(", "),
            "30\u{a0}s, 1\u{a0}min, 1\u{a0}min\u{a0}30\u{a0}s, 4\u{a0}min"
        );
    }
}
