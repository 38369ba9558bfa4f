//! Values to go through with `--vary`: `KEY=A,B,C`, `KEY=LOW..HIGH/COUNT`, or anything in `KEY=LOW..HIGH`.

use crate::numerics::powf;
use crate::scenario::diagnose::{Diagnostic, Diagnostics, SourceLocation, grouped, quoted};
use crate::scenario::schema::{
    Dimension, KeySpec, Kind, key_of, read_quantity, split_quantity, tidy,
};
use crate::scenario::values::{bad_name, split_assignment, unknown_key};

/// Largest number of values of one key.
const MAX_VALUES: usize = 1000;

/// Why a text is not a range: the problem and how to fix it.
type RangeProblem = (String, String);

/// The key and the values of one `--vary`; each pair can be given to [`read`](crate::scenario::read) as `KEY=VALUE`.
///
/// `LOW..HIGH/COUNT` is evenly spaced and includes both ends; with ` log` after it, each value is the previous one
/// times the same factor. The ends may have units; an end without one takes that of the other. Whole numbers are
/// rounded, and duplicates are removed.
///
/// ```
/// let (key, values) = sim::scenario::vary_values("plan.patient.recast=2..10/3 min").expect("well formed");
/// assert_eq!(key, "plan.patient.recast");
/// assert_eq!(values, ["2 min", "6 min", "10 min"]);
/// ```
///
/// # Errors
///
/// Everything that is wrong with it, the key included. Whether the scenario has what the key names is checked when
/// the values are read.
pub fn vary_values(vary: &str) -> Result<(String, Vec<String>), Diagnostics> {
    let Some((dotted, text)) = split_assignment(vary) else {
        let problem = format!("{} is not KEY=VALUES", quoted(vary));
        let fix = "write plan.NAME.recast=1min,2min,5min or plan.NAME.recast=1..10/10 min";
        return Err(vary_faults("", (problem, fix.to_owned())));
    };
    let key = governing_key(dotted).map_err(|fault| Diagnostics::from_fault("", *fault))?;
    let values = if has_range(text) {
        expand_range(&key, text).map_err(|reason| vary_faults(dotted, reason))?
    } else {
        pieces(text).into_iter().map(|piece| piece.trim().to_owned()).collect()
    };
    check_list(&values, text).map_err(|reason| vary_faults(dotted, reason))?;
    Ok((dotted.to_owned(), values))
}

fn vary_faults(dotted: &str, (problem, fix): RangeProblem) -> Diagnostics {
    Diagnostics::from_fault("", Diagnostic::new(&SourceLocation::Vary, dotted, problem, fix))
}

fn check_list(values: &[String], text: &str) -> Result<(), RangeProblem> {
    let reason = |problem: String, fix: &str| Err((problem, fix.to_owned()));
    if values.iter().any(String::is_empty) {
        let problem = format!("{} has an empty value", quoted(text));
        return reason(problem, "write a value between each two commas");
    }
    if values.len() > MAX_VALUES {
        return reason(format!("{} values", values.len()), &format!("{MAX_VALUES} at most"));
    }
    let twice = values.iter().enumerate().find(|(index, value)| values[..*index].contains(value));
    match twice {
        Some((_, value)) => {
            reason(format!("{} is there twice", quoted(value)), "remove one of them")
        }
        None => Ok(()),
    }
}

/// What one `--vary` lets a key be when points are sampled rather than put on a grid.
#[derive(Clone, Debug, PartialEq)]
pub struct VaryRange {
    /// The dotted key.
    pub key: String,
    values: VaryRangeValues,
}

/// Some values of a list, or all values between two ends.
#[derive(Clone, Debug, PartialEq)]
enum VaryRangeValues {
    Listed(Vec<String>),
    Between(RangeEnds),
}

impl VaryRange {
    /// The value at a fraction `share` of the way from the first to the last, 0 to 1, as people write it.
    ///
    /// ```
    /// let span = sim::scenario::vary_range("plan.patient.recast=1..16 min log").expect("well formed");
    /// assert_eq!((span.key.as_str(), span.value_at(0.5).as_str()), ("plan.patient.recast", "4 min"));
    /// ```
    ///
    /// # Panics
    ///
    /// If `share` is not from 0 to 1.
    #[must_use]
    pub fn value_at(&self, share: f64) -> String {
        assert!((0.0..=1.0).contains(&share), "a share is from 0 to 1, not {share}");
        match &self.values {
            VaryRangeValues::Listed(values) => {
                let index = (share * values.len() as f64) as usize;
                values[index.min(values.len() - 1)].clone()
            }
            VaryRangeValues::Between(ends) => ends.value_at(share),
        }
    }
}

/// What one `--vary` lets a key be: everything between two ends for `KEY=LOW..HIGH`, with a unit and possibly ` log`;
/// otherwise the list of [`vary_values`].
///
/// # Errors
///
/// Everything that is wrong with it, the key included.
pub fn vary_range(vary: &str) -> Result<VaryRange, Diagnostics> {
    let range =
        split_assignment(vary).filter(|(_, text)| has_range(text) && split_count(text).is_none());
    let Some((dotted, text)) = range else {
        let (key, values) = vary_values(vary)?;
        return Ok(VaryRange { key, values: VaryRangeValues::Listed(values) });
    };
    let key = governing_key(dotted).map_err(|fault| Diagnostics::from_fault("", *fault))?;
    let (text, is_geometric) = match text.strip_suffix("log").map(str::trim_end) {
        Some(ends) => (ends, true),
        None => (text, false),
    };
    let (low, high) = text.split_once("..").unwrap_or((text, text));
    let ends = RangeEnds::read(&key, low, high, "").and_then(|ends| ends.check(text, is_geometric));
    let ends = ends.map_err(|reason| vary_faults(dotted, reason))?;
    Ok(VaryRange { key: dotted.to_owned(), values: VaryRangeValues::Between(ends) })
}

/// A value of a key in SI units, with its unit as in column names. `None` if it is not a number.
///
/// ```
/// use sim::scenario::si_value;
/// assert_eq!(si_value("plan.patient.recast", "2 min"), Some((120.0, "s")));
/// assert_eq!(si_value("shoal.residents.count", "40"), Some((40.0, "")));
/// assert_eq!(si_value("plan.patient.bait", "pellets"), None);
/// ```
#[must_use]
pub fn si_value(key: &str, text: &str) -> Option<(f64, &'static str)> {
    let text = unquoted(text);
    let kind = governing_key(key).ok()?.kind;
    match kind.dimension() {
        Some(dimension) => Some((read_quantity(text, dimension).ok()?, dimension.column_unit())),
        None if kind.is_numeric() => Some((text.replace('_', "").parse().ok()?, "")),
        None => None,
    }
}

/// Whether the values of a key are numbers, so that they have an order; names and words have none.
#[must_use]
pub fn has_ordered_values(dotted: &str) -> bool {
    governing_key(dotted).is_ok_and(|key| key.kind.is_numeric())
}

/// A text without spaces and quotation marks around it.
fn unquoted(text: &str) -> &str {
    text.trim().trim_matches(['"', '\'']).trim()
}

/// The key that governs a dotted name; for a part of a spread, the key of the spread or of its `cv`.
fn governing_key(dotted: &str) -> Result<KeySpec, Box<Diagnostic>> {
    if let Some(fault) = bad_name(dotted, &SourceLocation::Vary) {
        return Err(Box::new(fault));
    }
    if let Some(key) = key_of(dotted) {
        return Ok(*key);
    }
    let part = dotted.rsplit_once('.');
    match part.and_then(|(above, part)| Some((key_of(above)?, part))) {
        Some((key, "low" | "high" | "mean")) if key.varies => Ok(*key),
        Some((key, "cv")) if key.varies => Ok(KeySpec::CV),
        _ => Err(Box::new(unknown_key(dotted, &SourceLocation::Vary))),
    }
}

/// Whether the text is a range rather than a list.
fn has_range(text: &str) -> bool {
    text.contains("..") && pieces(text).len() == 1
}

/// The pieces of a list, split at commas outside quotation marks and brackets.
fn pieces(text: &str) -> Vec<&str> {
    let (mut depth, mut quote, mut start) = (0_usize, None, 0);
    let mut pieces = Vec::new();
    for (offset, letter) in text.char_indices() {
        match (quote, letter) {
            (Some(open), _) if open == letter => quote = None,
            (Some(_), _) => {}
            (None, '"' | '\'') => quote = Some(letter),
            (None, '{' | '[') => depth += 1,
            (None, '}' | ']') => depth = depth.saturating_sub(1),
            (None, ',') if depth == 0 => {
                pieces.push(&text[start..offset]);
                start = offset + 1;
            }
            _ => {}
        }
    }
    pieces.push(&text[start..]);
    pieces
}

/// A text split at the first slash before a whole number: what is before it, the number, and the words after it. Units such
/// as `km/h` have a slash too. `None` if there is no such slash.
fn split_count(text: &str) -> Option<(&str, usize, &str)> {
    text.match_indices('/').find_map(|(at, _)| {
        let rest = text[at + 1..].trim_start();
        let end = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
        Some((&text[..at], rest[..end].parse().ok()?, &rest[end..]))
    })
}

/// The values of `LOW..HIGH/COUNT`.
fn expand_range(key: &KeySpec, text: &str) -> Result<Vec<String>, RangeProblem> {
    let malformed = || {
        let problem = format!("{} is not LOW..HIGH/COUNT", quoted(text));
        (problem, "write 1..10/10 min, or 1..16/5 min log for equal ratios".to_owned())
    };
    let (low, rest) = text.split_once("..").ok_or_else(malformed)?;
    let (high, count, unit) = split_count(rest).ok_or_else(malformed)?;
    let mut words: Vec<&str> = unit.split_whitespace().collect();
    let is_geometric = words.last() == Some(&"log");
    if is_geometric {
        words.pop();
    }
    if !(2..=MAX_VALUES).contains(&count) {
        let problem = format!("a range of {} values", grouped(count as u64));
        return Err((problem, format!("COUNT may be 2 to {MAX_VALUES}")));
    }
    let ends = RangeEnds::read(key, low, high, &words.join(" "))?.check(text, is_geometric)?;
    let mut values: Vec<String> = Vec::new();
    for step in 0..count {
        let value = ends.value_at(step as f64 / (count - 1) as f64);
        if !values.contains(&value) {
            values.push(value);
        }
    }
    Ok(values)
}

/// Both ends of a range as numbers of one unit, and how values are spaced between them.
#[derive(Clone, Debug, PartialEq)]
struct RangeEnds {
    low: f64,
    high: f64,
    unit: String,
    is_geometric: bool,
    is_whole: bool,
}

impl RangeEnds {
    fn read(key: &KeySpec, low: &str, high: &str, unit: &str) -> Result<Self, RangeProblem> {
        let (low, high) = (unquoted(low), unquoted(high));
        if !key.kind.is_numeric() {
            let problem = "takes no number, so there is nothing between two ends".to_owned();
            return Err((problem, format!("list the values: {}", key.such_as())));
        }
        let (low, high, unit) = match key.kind.dimension() {
            Some(dimension) => quantities(dimension, low, high, unit)?,
            None => bare_numbers(low, high, unit)?,
        };
        Ok(Self { low, high, unit, is_geometric: false, is_whole: key.kind == Kind::Whole })
    }

    /// Checks that a range can go from the low to the high end, with equal ratios if it is geometric.
    fn check(self, text: &str, is_geometric: bool) -> Result<Self, RangeProblem> {
        if self.low >= self.high {
            let problem = format!("{} does not go upwards", quoted(text));
            return Err((problem, "put LOW first".to_owned()));
        }
        if is_geometric && self.low <= 0.0 {
            let problem = format!("{} begins at or below zero", quoted(text));
            return Err((problem, "equal ratios (log) need a LOW above zero".to_owned()));
        }
        Ok(Self { is_geometric, ..self })
    }

    /// The value at a fraction of the way, as people write it.
    fn value_at(&self, share: f64) -> String {
        let value = if self.is_geometric {
            self.low * powf(self.high / self.low, share)
        } else {
            self.low + share * (self.high - self.low)
        };
        let value = if self.is_whole { value.round() } else { value };
        format!("{} {}", tidy(value), self.unit).trim_end().to_owned()
    }
}

/// Both ends in one unit, which is the one given, otherwise that of the low or the high end.
fn quantities(
    dimension: Dimension,
    low: &str,
    high: &str,
    unit: &str,
) -> Result<(f64, f64, String), RangeProblem> {
    let unit_of = |end: &str| {
        let terms = split_quantity(end).unwrap_or_default();
        terms.last().map_or_else(String::new, |term| term.unit.clone())
    };
    let units = [unit.to_owned(), unit_of(low), unit_of(high)];
    let unit = units.into_iter().find(|unit| !unit.is_empty()).unwrap_or_default();
    let si = |text: &str| {
        read_quantity(text.trim(), dimension).map_err(|error| (error.problem, error.fix))
    };
    let end_si = |end: &str| {
        if unit_of(end).is_empty() { si(&format!("{end} {unit}")) } else { si(end) }
    };
    let (low_si, high_si) = (end_si(low)?, end_si(high)?);
    // The scale of a unit is linear, so two of its points determine it.
    let (zero_si, one_si) = (si(&format!("0 {unit}"))?, si(&format!("1 {unit}"))?);
    let in_unit = |si: f64| (si - zero_si) / (one_si - zero_si);
    Ok((in_unit(low_si), in_unit(high_si), unit))
}

fn bare_numbers(low: &str, high: &str, unit: &str) -> Result<(f64, f64, String), RangeProblem> {
    let number = |end: &str| {
        let number = end.parse().ok().filter(|number: &f64| number.is_finite());
        number.ok_or_else(|| {
            (format!("{} is not a bare number", quoted(end)), "write 1..10/10".to_owned())
        })
    };
    if !unit.is_empty() {
        let problem = format!("{} is a unit, and this key takes bare numbers", quoted(unit));
        return Err((problem, "leave the unit out".to_owned()));
    }
    Ok((number(low)?, number(high)?, String::new()))
}
