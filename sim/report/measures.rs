//! Weights, lengths, times and shares as an angler writes them.

use super::ticks::tick_label;
use crate::scenario::Units;

/// Pounds in a kilogram.
const LB_PER_KG: f64 = 1.0 / 0.453_592_37;
/// Yards in a metre.
const YD_PER_M: f64 = 1.0 / 0.9144;
/// Stands where there is no number.
const NONE: &str = "–";

/// A weight [kg] in words: `62 lb 5 oz`, `9 oz`, `28.3 kg`, `1.42 kg`.
///
/// ```
/// use sim::report::weight;
/// use sim::scenario::Units;
/// assert_eq!(weight(28.26, Units::Imperial), "62 lb 5 oz");
/// assert_eq!(weight(28.26, Units::Metric), "28.3 kg");
/// ```
#[must_use]
pub fn weight(kg: f64, units: Units) -> String {
    if !kg.is_finite() {
        return NONE.to_owned();
    }
    let size = match units {
        Units::Imperial => {
            let ounces = (kg.abs() * LB_PER_KG * 16.0).round() as u64;
            match (ounces / 16, ounces % 16) {
                (0, 0) => return "0 lb".to_owned(),
                (0, oz) => format!("{oz} oz"),
                (lb, oz) => format!("{lb} lb {oz} oz"),
            }
        }
        Units::Metric => match kg_digits(kg) {
            digits if digits.chars().all(|c| "0.".contains(c)) => return "0 kg".to_owned(),
            digits => format!("{digits} kg"),
        },
    };
    if kg < 0.0 { format!("−{size}") } else { size }
}

/// Kilograms without sign or unit, to three figures or so.
fn kg_digits(kg: f64) -> String {
    let decimals = kg_decimals(kg);
    format!("{:.decimals$}", kg.abs())
}

/// Decimals of kilograms that make three figures or so.
fn kg_decimals(kg: f64) -> usize {
    if kg.abs() < 9.995 { 2 } else { 1 }
}

/// Two weights [kg] as a range: `41–84 lb`, `3 lb 2 oz–7 lb 0 oz`, `18.6–38.1 kg`.
///
/// Whole pounds serve where the upper end is above twenty.
#[must_use]
pub fn weight_range(low_kg: f64, high_kg: f64, units: Units) -> String {
    match units {
        _ if !(low_kg.is_finite() && high_kg.is_finite()) => NONE.to_owned(),
        Units::Imperial if high_kg * LB_PER_KG >= 20.0 => {
            let (low, high) = (low_kg * LB_PER_KG, high_kg * LB_PER_KG);
            format!("{low:.0}–{high:.0} lb")
        }
        Units::Imperial => format!("{}–{}", weight(low_kg, units), weight(high_kg, units)),
        Units::Metric if low_kg >= 0.0 => {
            let decimals = if high_kg < 9.995 { 2 } else { 1 };
            format!("{low_kg:.decimals$}–{high_kg:.decimals$} kg")
        }
        Units::Metric => format!("{}–{}", weight(low_kg, units), weight(high_kg, units)),
    }
}

/// A small amount of bait [kg] as it is weighed out: `25 g`, or as any weight from 200 g on.
pub(super) fn bait_amount(kg: f64, units: Units) -> String {
    match 1000.0 * kg {
        g if !g.is_finite() => NONE.to_owned(),
        g if g < 9.95 => format!("{} g", tick_label((10.0 * g).round() / 10.0)),
        g if g < 199.5 => format!("{} g", plain(g, 0)),
        _ => weight(kg, units),
    }
}

/// Whether a column of weights up to `top_kg` is told in whole pounds.
fn in_whole_pounds(top_kg: f64, units: Units) -> bool {
    units == Units::Imperial && top_kg * LB_PER_KG >= 20.0
}

/// A weight [kg] in a column of weights up to `top_kg`: all in whole pounds, or all to the same decimal.
pub(super) fn alike(kg: f64, top_kg: f64, units: Units) -> String {
    let none = [Units::Imperial, Units::Metric].map(|units| weight(0.0, units));
    match units {
        _ if !kg.is_finite() || none.contains(&weight(kg, units)) => weight(kg, units),
        // Less than half a pound keeps its ounces: it is not nothing.
        Units::Imperial if in_whole_pounds(top_kg, units) && (kg * LB_PER_KG).abs() >= 0.5 => {
            format!("{} lb", plain(kg * LB_PER_KG, 0))
        }
        Units::Imperial => weight(kg, units),
        Units::Metric => format!("{} kg", plain(kg, kg_decimals(top_kg))),
    }
}

/// Two weights [kg] as a range in a column of weights up to `top_kg`; a unit that stands in the column beside
/// it is left out.
pub(super) fn range_alike(low_kg: f64, high_kg: f64, top_kg: f64, units: Units) -> String {
    let (scale, decimals) = match units {
        _ if !(low_kg.is_finite() && high_kg.is_finite()) => return NONE.to_owned(),
        Units::Imperial if in_whole_pounds(top_kg, units) => (LB_PER_KG, 0),
        Units::Imperial => return weight_range(low_kg, high_kg, units),
        Units::Metric => (1.0, kg_decimals(top_kg)),
    };
    format!("{}–{}", plain(low_kg * scale, decimals), plain(high_kg * scale, decimals))
}

/// A weight [kg] as a number on an axis in [`weight_unit`].
pub(super) fn weight_on_axis(kg: f64, units: Units) -> f64 {
    let kg = if kg.is_finite() { kg } else { 0.0 };
    match units {
        Units::Imperial => kg * LB_PER_KG,
        Units::Metric => kg,
    }
}

/// The unit of weight on an axis.
pub(super) fn weight_unit(units: Units) -> &'static str {
    match units {
        Units::Imperial => "lb",
        Units::Metric => "kg",
    }
}

/// A length [m] in words: `28 m`, `1.4 m`, `31 yd`.
#[must_use]
pub fn length(m: f64, units: Units) -> String {
    let (size, unit) = match units {
        Units::Imperial => (m * YD_PER_M, "yd"),
        Units::Metric => (m, "m"),
    };
    match size {
        size if !size.is_finite() => NONE.to_owned(),
        size if size.abs() < 9.95 => format!("{} {unit}", plain(size, 1)),
        size => format!("{} {unit}", plain(size, 0)),
    }
}

/// A span of time [s] in words: `45 s`, `2 min`, `2 min 30 s`, `1 h 30 min`.
///
/// Seconds are dropped from an hour upwards.
#[must_use]
pub fn duration(s: f64) -> String {
    if !s.is_finite() {
        return NONE.to_owned();
    }
    let seconds = s.max(0.0).round() as u64;
    if seconds < 3600 {
        return match (seconds / 60, seconds % 60) {
            (0, s) => format!("{s} s"),
            (min, 0) => format!("{min} min"),
            (min, s) => format!("{min} min {s} s"),
        };
    }
    let minutes = (seconds + 30) / 60;
    match (minutes / 60, minutes % 60) {
        (h, 0) => format!("{h} h"),
        (h, min) => format!("{h} h {min} min"),
    }
}

/// A moment [s] on the session's clock, `h:mm:ss`, whole seconds passed.
#[must_use]
pub fn clock(t_s: f64) -> String {
    if !t_s.is_finite() {
        return NONE.to_owned();
    }
    // A microsecond more than none keeps 59.999 999 9 s, a rounding of 60 s, in its own minute.
    let seconds = (t_s.max(0.0) + 1e-6).floor() as u64;
    let (h, min, s) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    format!("{h}:{min:02}:{s:02}")
}

/// A share in words: `78 %`; never `0 %` for something or `100 %` for not quite all.
#[must_use]
pub fn percent(share: f64) -> String {
    match 100.0 * share {
        size if !size.is_finite() => NONE.to_owned(),
        size if size > 0.0 && size < 0.5 => "under 1 %".to_owned(),
        size if (99.5..100.0).contains(&size) => "over 99 %".to_owned(),
        size => format!("{} %", plain(size, 0)),
    }
}

/// A share to a tenth of a per cent below ten per cent, to a whole one above.
pub(super) fn fine_percent(share: f64) -> String {
    match 100.0 * share {
        size if (0.05..9.95).contains(&size) => format!("{} %", plain(size, 1)),
        _ => percent(share),
    }
}

/// A count or mean of counts: `7.4`, `0.12`, `142`.
pub(super) fn number(value: f64) -> String {
    match value.abs() {
        size if !size.is_finite() => NONE.to_owned(),
        size if size < 0.005 => "0".to_owned(),
        size if size < 0.995 => plain(value, 2),
        size if size < 99.95 => plain(value, 1),
        _ => plain(value, 0),
    }
}

/// A number with a true minus sign and no minus before nought.
fn plain(value: f64, decimals: usize) -> String {
    let digits = format!("{:.decimals$}", value.abs());
    let nought = digits.chars().all(|c| "0.".contains(c));
    if value < 0.0 && !nought { format!("−{digits}") } else { digits }
}
