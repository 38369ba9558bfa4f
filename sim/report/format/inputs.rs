//! Names and values of uncertain inputs, in words.

use super::units::{trimmed_number, weight};
use crate::numerics::{log10, powi};
use crate::scenario::Units;

/// A value of an uncertain input with its unit.
pub(crate) fn input_value(value: f64, unit: &str, units: Units) -> String {
    if unit == "kg" && value >= 0.02 {
        return weight(value, units);
    }
    let digits = if value == 0.0 { 0.0 } else { 1.0 - log10(value.abs()).floor() };
    let scale = powi(10.0, digits.clamp(0.0, 12.0) as i32);
    let rounded = (value * scale).round() / scale;
    let number = if rounded != 0.0 && rounded.abs() < 1e-3 {
        format!("{rounded:.1e}")
    } else {
        trimmed_number(rounded)
    };
    if unit.is_empty() { number } else { format!("{number}\u{a0}{unit}") }
}

/// A key without the prefix that all keys of books share.
pub(crate) fn short_input_name(key: &str) -> &str {
    key.strip_prefix("book.").unwrap_or(key)
}

/// The middle of a distribution with its range: `0.3 (0.2–0.5)`.
pub(crate) fn learned_range([low, middle, high]: [f64; 3], unit: &str, units: Units) -> String {
    let bare = |value: f64| {
        let shown = input_value(value, unit, units);
        shown.split(['\u{a0}', ' ']).next().unwrap_or_default().to_owned()
    };
    format!("{} ({}–{})", input_value(middle, unit, units), bare(low), bare(high))
}
