//! Weights, lengths, times and shares as an angler writes them.
//!
//! The spaces inside a quantity are no-break spaces, so that it is never broken at the end of a line.

use crate::scenario::Units;
use crate::stats::Interval;

/// Pounds in a kilogram.
const LB_PER_KG: f64 = 1.0 / 0.453_592_37;
/// Yards in a metre.
const YD_PER_M: f64 = 1.0 / 0.9144;
/// Shown in place of a number that is not known.
const UNKNOWN: &str = "–";

/// A weight [kg] in words: `62 lb 5 oz`, `9 oz`, `28.3 kg`, `1.42 kg`.
///
/// ```
/// use sim::report::weight;
/// use sim::scenario::Units;
/// assert_eq!(weight(28.26, Units::Imperial), "62\u{a0}lb\u{a0}5\u{a0}oz");
/// assert_eq!(weight(28.26, Units::Metric), "28.3\u{a0}kg");
/// ```
pub fn weight(kg: f64, units: Units) -> String {
    if !kg.is_finite() {
        return UNKNOWN.to_owned();
    }
    let size = match units {
        Units::Imperial => {
            let ounces = (kg.abs() * LB_PER_KG * 16.0).round() as u64;
            match (ounces / 16, ounces % 16) {
                (0, 0) => return "0\u{a0}lb".to_owned(),
                (0, oz) => format!("{oz}\u{a0}oz"),
                (lb, oz) => format!("{lb}\u{a0}lb\u{a0}{oz}\u{a0}oz"),
            }
        }
        Units::Metric => match kg_digits(kg) {
            digits if digits.chars().all(|c| "0.".contains(c)) => return "0\u{a0}kg".to_owned(),
            digits => format!("{digits}\u{a0}kg"),
        },
    };
    if kg < 0.0 { format!("−{size}") } else { size }
}

/// A weight that somebody has set [kg], without zero ounces: `50 lb`, `4 lb 6 oz`, `20.0 kg`.
pub(crate) fn weight_limit(kg: f64, units: Units) -> String {
    let words = weight(kg, units);
    words.strip_suffix("\u{a0}0\u{a0}oz").map(str::to_owned).unwrap_or(words)
}

/// Whether a weight [kg] is shown as zero.
pub(crate) fn is_shown_as_zero(kg: f64, units: Units) -> bool {
    weight(kg, units) == weight(0.0, units)
}

/// Kilograms without sign or unit, to about three figures.
fn kg_digits(kg: f64) -> String {
    let decimals = kg_decimals(kg);
    format!("{:.decimals$}", kg.abs())
}

/// Number of decimals that shows kilograms to about three figures.
fn kg_decimals(kg: f64) -> usize {
    if kg.abs() < 9.995 { 2 } else { 1 }
}

/// Two weights [kg] as a range: `41–84 lb`, `3 lb 2 oz–7 lb 0 oz`, `18.6–38.1 kg`.
///
/// In whole pounds if the upper end is 20 lb or more.
pub fn weight_range(low_kg: f64, high_kg: f64, units: Units) -> String {
    match units {
        _ if !(low_kg.is_finite() && high_kg.is_finite()) => UNKNOWN.to_owned(),
        Units::Imperial if high_kg * LB_PER_KG >= 20.0 => {
            let (low, high) = (low_kg * LB_PER_KG, high_kg * LB_PER_KG);
            format!("{low:.0}–{high:.0}\u{a0}lb")
        }
        Units::Imperial => format!("{}–{}", weight(low_kg, units), weight(high_kg, units)),
        Units::Metric if low_kg >= 0.0 => {
            let decimals = if high_kg < 9.995 { 2 } else { 1 };
            format!("{low_kg:.decimals$}–{high_kg:.decimals$}\u{a0}kg")
        }
        Units::Metric => format!("{}–{}", weight(low_kg, units), weight(high_kg, units)),
    }
}

/// An interval of weights [kg] as a range.
pub(crate) fn weight_interval(interval_kg: Option<Interval>, units: Units) -> String {
    interval_kg.map_or_else(|| UNKNOWN.to_owned(), |kg| weight_range(kg.low, kg.high, units))
}

/// Both ends of an interval in words, each as `shown`: `3 lb 2 oz to 7 lb`.
pub(crate) fn interval_ends(interval: Option<Interval>, shown: impl Fn(f64) -> String) -> String {
    match interval {
        Some(Interval { low, high }) => format!("{} to {}", shown(low), shown(high)),
        None => format!("{UNKNOWN} to {UNKNOWN}"),
    }
}

/// An amount of bait [kg] as it is weighed out: `25 g`; from 200 g as any other weight.
pub(crate) fn bait_amount(kg: f64, units: Units) -> String {
    match 1000.0 * kg {
        g if !g.is_finite() => UNKNOWN.to_owned(),
        g if g < 9.95 => format!("{}\u{a0}g", trimmed_number((10.0 * g).round() / 10.0)),
        g if g < 199.5 => format!("{}\u{a0}g", with_minus(g, 0)),
        _ => weight(kg, units),
    }
}

/// Whether a column of weights up to `top_kg` is shown in whole pounds.
fn in_whole_pounds(top_kg: f64, units: Units) -> bool {
    units == Units::Imperial && top_kg * LB_PER_KG >= 20.0
}

/// A weight [kg] in a column of weights up to `top_kg`: all in whole pounds, or all to the same decimal.
pub(crate) fn weight_in_column(kg: f64, top_kg: f64, units: Units) -> String {
    match units {
        _ if !kg.is_finite() || is_shown_as_zero(kg, units) => weight(kg, units),
        // Less than half a pound keeps its ounces, or it would read as zero.
        Units::Imperial if in_whole_pounds(top_kg, units) && (kg * LB_PER_KG).abs() >= 0.5 => {
            format!("{}\u{a0}lb", with_minus(kg * LB_PER_KG, 0))
        }
        Units::Imperial => weight(kg, units),
        Units::Metric => format!("{}\u{a0}kg", with_minus(kg, kg_decimals(top_kg))),
    }
}

/// Two weights [kg] as a range in a column of weights up to `top_kg`.
///
/// Without the unit where the column of weights next to it shows the same unit.
pub(crate) fn range_in_column(low_kg: f64, high_kg: f64, top_kg: f64, units: Units) -> String {
    let (scale, decimals) = match units {
        _ if !(low_kg.is_finite() && high_kg.is_finite()) => return UNKNOWN.to_owned(),
        Units::Imperial if in_whole_pounds(top_kg, units) => (LB_PER_KG, 0),
        Units::Imperial => return weight_range(low_kg, high_kg, units),
        Units::Metric => (1.0, kg_decimals(top_kg)),
    };
    format!("{}–{}", with_minus(low_kg * scale, decimals), with_minus(high_kg * scale, decimals))
}

/// A weight [kg] as a number on an axis in [`weight_unit`].
pub(crate) fn weight_on_axis(kg: f64, units: Units) -> f64 {
    let kg = if kg.is_finite() { kg } else { 0.0 };
    match units {
        Units::Imperial => kg * LB_PER_KG,
        Units::Metric => kg,
    }
}

/// The unit of weight on an axis.
pub(crate) fn weight_unit(units: Units) -> &'static str {
    match units {
        Units::Imperial => "lb",
        Units::Metric => "kg",
    }
}

/// A length [m] in words: `28 m`, `1.4 m`, `31 yd`.
pub fn length(m: f64, units: Units) -> String {
    let (size, unit) = match units {
        Units::Imperial => (m * YD_PER_M, "yd"),
        Units::Metric => (m, "m"),
    };
    match size {
        size if !size.is_finite() => UNKNOWN.to_owned(),
        size if size.abs() < 9.95 => format!("{}\u{a0}{unit}", with_minus(size, 1)),
        size => format!("{}\u{a0}{unit}", with_minus(size, 0)),
    }
}

/// A speed of the wind [m/s]: `20 km/h`, `12 mph`.
pub(super) fn speed(m_s: f64, units: Units) -> String {
    let (number, unit) = match units {
        Units::Metric => (m_s * 3.6, "km/h"),
        Units::Imperial => (m_s / 0.447_04, "mph"),
    };
    format!("{number:.0}\u{a0}{unit}")
}

/// A span of time [s] in words: `45 s`, `2 min`, `2 min 30 s`, `1 h 30 min`.
///
/// Seconds are dropped from an hour upwards.
pub fn duration(s: f64) -> String {
    if !s.is_finite() {
        return UNKNOWN.to_owned();
    }
    let seconds = s.max(0.0).round() as u64;
    if seconds < 3600 {
        return match (seconds / 60, seconds % 60) {
            (0, s) => format!("{s}\u{a0}s"),
            (min, 0) => format!("{min}\u{a0}min"),
            (min, s) => format!("{min}\u{a0}min\u{a0}{s}\u{a0}s"),
        };
    }
    let minutes = (seconds + 30) / 60;
    match (minutes / 60, minutes % 60) {
        (h, 0) => format!("{h}\u{a0}h"),
        (h, min) => format!("{h}\u{a0}h\u{a0}{min}\u{a0}min"),
    }
}

/// A time [s] on the session's clock, `h:mm:ss`, rounded down to whole seconds.
pub fn clock(t_s: f64) -> String {
    if !t_s.is_finite() {
        return UNKNOWN.to_owned();
    }
    // The extra microsecond shows 59.999 999 9 s, which is 60 s but for rounding, as 1 min.
    let seconds = (t_s.max(0.0) + 1e-6).floor() as u64;
    let (h, min, s) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    format!("{h}:{min:02}:{s:02}")
}

/// A share in words: `78 %`; `0 %` and `100 %` only if they are exact.
pub fn percent(share: f64) -> String {
    match 100.0 * share {
        size if !size.is_finite() => UNKNOWN.to_owned(),
        size if size > 0.0 && size <= 0.5 => "under 1\u{a0}%".to_owned(),
        size if (99.5..100.0).contains(&size) => "over 99\u{a0}%".to_owned(),
        size => format!("{}\u{a0}%", with_minus(size, 0)),
    }
}

/// A share in words, with one decimal below 10 %.
pub(crate) fn fine_percent(share: f64) -> String {
    match 100.0 * share {
        size if (0.05..9.95).contains(&size) => format!("{}\u{a0}%", with_minus(size, 1)),
        _ => percent(share),
    }
}

/// A difference of two shares in percentage points, without its sign: `3 points`.
pub(crate) fn percent_points(share: f64) -> String {
    format!("{:.0}\u{a0}points", 100.0 * share.abs())
}

/// A count or mean of counts: `7.4`, `0.12`, `142`.
pub(crate) fn number(value: f64) -> String {
    match value.abs() {
        size if !size.is_finite() => UNKNOWN.to_owned(),
        size if size < 0.005 => "0".to_owned(),
        size if size < 0.995 => with_minus(value, 2),
        size if size < 99.95 => with_minus(value, 1),
        _ => with_minus(value, 0),
    }
}

/// A number with a true minus sign, and none before zero.
fn with_minus(value: f64, decimals: usize) -> String {
    let digits = format!("{:.decimals$}", value.abs());
    let is_zero = digits.chars().all(|c| "0.".contains(c));
    if value < 0.0 && !is_zero { format!("−{digits}") } else { digits }
}

/// A number without trailing zeros: `20`, `0.5`.
pub(crate) fn trimmed_number(value: f64) -> String {
    let rounded = (value * 1e6).round() / 1e6 + 0.0;
    format!("{rounded}").replace('-', "−")
}
