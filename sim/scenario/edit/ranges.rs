//! Values to go through: `--vary KEY=A,B,C` or `KEY=LOW..HIGH/COUNT`, written out one by one, or between two ends.

use crate::scenario::diagnose::{Fault, Faults, Place, quoted};
use crate::scenario::schema::{
    Dimension, Key, Kind, MAX_CV, is_name, key_of, read_quantity, split_quantity, tidy,
};
use crate::scenario::values::{split_assignment, unknown_key};

/// Most values of one key.
const MOST_VALUES: usize = 1000;

/// The key and the value texts of one `--vary`; each pair goes to [`read`](super::read()) as
/// `KEY=VALUE`.
///
/// `LOW..HIGH/COUNT` is evenly spaced and includes both ends; with ` log` after it, each value is the
/// same multiple of the one before. The ends may carry units, and one that has none takes the other's.
/// Whole numbers are rounded, and what comes out twice is taken once.
///
/// ```
/// let (key, values) = sim::scenario::values("plan.patient.recast=2..10/3 min").expect("well formed");
/// assert_eq!(key, "plan.patient.recast");
/// assert_eq!(values, ["2 min", "6 min", "10 min"]);
/// ```
///
/// # Errors
///
/// Everything that is wrong with it, the key included; whether the scenario has what the key names is
/// found when the values are read.
pub fn values(vary: &str) -> Result<(String, Vec<String>), Faults> {
    let told = |fault| Faults::one("", fault);
    let Some((dotted, text)) = split_assignment(vary) else {
        let wrong = format!("{} is not KEY=VALUES", quoted(vary));
        let mend = "write plan.NAME.recast=1min,2min,5min or plan.NAME.recast=1..10/10 min";
        return Err(told(Fault::new(&Place::Vary, "", wrong, mend)));
    };
    let rule = rule_of(dotted).map_err(|fault| told(*fault))?;
    let fault = |wrong: String, mend: &str| told(Fault::new(&Place::Vary, dotted, wrong, mend));
    let values = if has_range(text) {
        range(&rule, text).map_err(|(wrong, mend)| fault(wrong, &mend))?
    } else {
        pieces(text).into_iter().map(|piece| piece.trim().to_owned()).collect()
    };
    if values.iter().any(String::is_empty) {
        return Err(fault(
            format!("{} has an empty value", quoted(text)),
            "write a value between each two commas",
        ));
    }
    if values.len() > MOST_VALUES {
        let wrong = format!("{} values", values.len());
        return Err(fault(wrong, &format!("{MOST_VALUES} at most")));
    }
    if let Some((_, twice)) =
        values.iter().enumerate().find(|(at, value)| values[..*at].contains(value))
    {
        return Err(fault(format!("{} stands there twice", quoted(twice)), "take one of them out"));
    }
    Ok((dotted.to_owned(), values))
}

/// What a `--vary` lets a key be, where points are strewn rather than laid on a grid.
#[derive(Clone, Debug, PartialEq)]
pub struct Span {
    /// The dotted key.
    pub key: String,
    within: Within,
}

/// Values between two ends, or some of a list.
#[derive(Clone, Debug, PartialEq)]
enum Within {
    Listed(Vec<String>),
    Ends { ends: Ends, geometric: bool, whole: bool },
}

impl Span {
    /// The value at `share` of the way, 0 to 1, as it would be written.
    ///
    /// ```
    /// let span = sim::scenario::span("plan.patient.recast=1..16 min log").expect("well formed");
    /// assert_eq!((span.key.as_str(), span.at(0.5).as_str()), ("plan.patient.recast", "4 min"));
    /// ```
    ///
    /// # Panics
    ///
    /// If `share` is not within 0 to 1.
    #[must_use]
    pub fn at(&self, share: f64) -> String {
        assert!((0.0..=1.0).contains(&share), "a share lies within 0 to 1, not at {share}");
        match &self.within {
            Within::Listed(values) => {
                let at = (share * values.len() as f64) as usize;
                values[at.min(values.len() - 1)].clone()
            }
            Within::Ends { ends, geometric, whole } => ends.write_at(share, *geometric, *whole),
        }
    }
}

/// What one `--vary` lets a key be: `KEY=LOW..HIGH`, with a unit and perhaps ` log`, is everything between
/// two ends; what [`values`] takes is the values it would write out.
///
/// # Errors
///
/// Everything that is wrong with it, the key included.
pub fn span(vary: &str) -> Result<Span, Faults> {
    let ends = split_assignment(vary).filter(|(_, text)| has_range(text) && !text.contains('/'));
    let Some((key, text)) = ends else {
        let (key, values) = values(vary)?;
        return Ok(Span { key, within: Within::Listed(values) });
    };
    let told = |fault| Faults::one("", fault);
    let rule = rule_of(key).map_err(|fault| told(*fault))?;
    let (text, geometric) = match text.strip_suffix("log").map(str::trim_end) {
        Some(ends) => (ends, true),
        None => (text, false),
    };
    let (low, high) = text.split_once("..").unwrap_or((text, text));
    let ends = Ends::read(&rule, low, high, "").and_then(|ends| ends.checked(text, geometric));
    let ends = ends.map_err(|(wrong, mend)| told(Fault::new(&Place::Vary, key, wrong, mend)))?;
    let within = Within::Ends { ends, geometric, whole: rule.kind == Kind::Whole };
    Ok(Span { key: key.to_owned(), within })
}

/// A value of a key in SI units, with the unit as it stands in the names of columns; none of what is no number.
///
/// ```
/// use sim::scenario::si_value;
/// assert_eq!(si_value("plan.patient.recast", "2 min"), Some((120.0, "s")));
/// assert_eq!(si_value("shoal.residents.count", "40"), Some((40.0, "")));
/// assert_eq!(si_value("plan.patient.bait", "pellets"), None);
/// ```
#[must_use]
pub fn si_value(key: &str, text: &str) -> Option<(f64, &'static str)> {
    let text = text.trim().trim_matches(['"', '\'']).trim();
    let of = |dimension: Dimension| {
        Some((read_quantity(text, dimension).ok()?, dimension.column_unit()))
    };
    match rule_of(key).ok()?.kind {
        Kind::Quantity(dimension) => of(dimension),
        Kind::TimeOr(_) => of(Dimension::Time),
        Kind::Number | Kind::Whole => Some((text.replace('_', "").parse().ok()?, "")),
        _ => None,
    }
}

/// Whether the values of a key are numbers, so that they have an order; a name or a word has none.
#[must_use]
pub fn has_order(dotted: &str) -> bool {
    rule_of(dotted).is_ok_and(|rule| {
        matches!(rule.kind, Kind::Quantity(_) | Kind::TimeOr(_) | Kind::Number | Kind::Whole)
    })
}

/// The key that governs a dotted name; for a part of a spread, that of the spread or of its cv.
fn rule_of(dotted: &str) -> Result<Key, Box<Fault>> {
    if let Some(name) = dotted.split('.').find(|name| !is_name(name)) {
        let wrong = format!("{} cannot be a name in a key", quoted(name));
        let mend = "a dotted key has names of letters, digits, - and _, parted by dots";
        return Err(Box::new(Fault::new(&Place::Vary, "", wrong, mend)));
    }
    if let Some(key) = key_of(dotted) {
        return Ok(key.clone());
    }
    let part = dotted.rsplit_once('.');
    match part.and_then(|(above, part)| Some((key_of(above)?, part))) {
        Some((key, "low" | "high" | "mean")) if key.spreads => Ok(key.clone()),
        Some((key, "cv")) if key.spreads => {
            Ok(Key::new(dotted, Kind::Number, key.default.clone(), "").within(0.0, MAX_CV))
        }
        _ => Err(Box::new(unknown_key(dotted, &Place::Vary))),
    }
}

/// Whether the text is `LOW..HIGH/COUNT` rather than a list.
fn has_range(text: &str) -> bool {
    text.contains("..") && pieces(text).len() == 1
}

/// Parts of a list, cut at commas that stand outside quotation marks and brackets.
fn pieces(text: &str) -> Vec<&str> {
    let (mut depth, mut quote, mut start) = (0_usize, None, 0);
    let mut pieces = Vec::new();
    for (at, letter) in text.char_indices() {
        match (quote, letter) {
            (Some(open), _) if open == letter => quote = None,
            (Some(_), _) => {}
            (None, '"' | '\'') => quote = Some(letter),
            (None, '{' | '[') => depth += 1,
            (None, '}' | ']') => depth = depth.saturating_sub(1),
            (None, ',') if depth == 0 => {
                pieces.push(&text[start..at]);
                start = at + 1;
            }
            _ => {}
        }
    }
    pieces.push(&text[start..]);
    pieces
}

/// Writes out `LOW..HIGH/COUNT`, or says what is wrong and how to mend it.
fn range(rule: &Key, text: &str) -> Result<Vec<String>, (String, String)> {
    let shape = || {
        let wrong = format!("{} is not LOW..HIGH/COUNT", quoted(text));
        (wrong, "write 1..10/10 min, or 1..16/5 min log for even multiples".to_owned())
    };
    let (low, rest) = text.split_once("..").ok_or_else(shape)?;
    let (high, rest) = rest.split_once('/').ok_or_else(shape)?;
    let mut words = rest.split_whitespace();
    let count: usize = words.next().and_then(|word| word.parse().ok()).ok_or_else(shape)?;
    let mut words: Vec<&str> = words.collect();
    let geometric = words.last() == Some(&"log");
    if geometric {
        words.pop();
    }
    if !(2..=MOST_VALUES).contains(&count) {
        let wrong = format!("{count} values from end to end");
        return Err((wrong, format!("COUNT may be 2 to {MOST_VALUES}")));
    }
    let ends = Ends::read(rule, low, high, &words.join(" "))?.checked(text, geometric)?;
    let mut values: Vec<String> = Vec::new();
    for step in 0..count {
        let share = step as f64 / (count - 1) as f64;
        let value = ends.write_at(share, geometric, rule.kind == Kind::Whole);
        if !values.contains(&value) {
            values.push(value);
        }
    }
    Ok(values)
}

/// Both ends of a range as numbers of one unit.
#[derive(Clone, Debug, PartialEq)]
struct Ends {
    low: f64,
    high: f64,
    unit: String,
}

impl Ends {
    fn read(rule: &Key, low: &str, high: &str, unit: &str) -> Result<Self, (String, String)> {
        let bare = |end: &str| end.trim().trim_matches(['"', '\'']).trim().to_owned();
        let (low, high) = (bare(low), bare(high));
        let dimension = match rule.kind {
            Kind::Quantity(dimension) => Some(dimension),
            Kind::TimeOr(_) => Some(Dimension::Time),
            Kind::Number | Kind::Whole => None,
            _ => {
                let wrong = "takes no number, so there is nothing between two ends".to_owned();
                return Err((wrong, format!("list the values: {}", rule.such_as())));
            }
        };
        let Some(dimension) = dimension else {
            return Self::bare_numbers(&low, &high, unit);
        };
        let unit_of = |end: &str| {
            let parts = split_quantity(end).unwrap_or_default();
            parts.last().map_or_else(String::new, |part| part.unit.clone())
        };
        let units = [unit.to_owned(), unit_of(&low), unit_of(&high)];
        let unit = units.into_iter().find(|unit| !unit.is_empty()).unwrap_or_default();
        let si = |end: &str| {
            let own = unit_of(end);
            let written = if own.is_empty() { format!("{end} {unit}") } else { end.to_owned() };
            read_quantity(written.trim(), dimension).map_err(|why| (why.wrong, why.mend))
        };
        let (low_si, high_si) = (si(&low)?, si(&high)?);
        // The scale of a unit is linear, so its nought and its one tell all of it.
        let at = |number: f64| read_quantity(&format!("{number} {unit}"), dimension);
        let (nought, one) = match (at(0.0), at(1.0)) {
            (Ok(nought), Ok(one)) => (nought, one),
            (Err(why), _) | (_, Err(why)) => return Err((why.wrong, why.mend)),
        };
        let back = |si: f64| (si - nought) / (one - nought);
        Ok(Self { low: back(low_si), high: back(high_si), unit })
    }

    fn bare_numbers(low: &str, high: &str, unit: &str) -> Result<Self, (String, String)> {
        let number = |end: &str| {
            let number = end.parse().ok().filter(|number: &f64| number.is_finite());
            number.ok_or_else(|| {
                (format!("{} is no bare number", quoted(end)), "write 1..10/10".to_owned())
            })
        };
        if !unit.is_empty() {
            let wrong = format!("{} is a unit, and this key takes bare numbers", quoted(unit));
            return Err((wrong, "leave the unit out".to_owned()));
        }
        Ok(Self { low: number(low)?, high: number(high)?, unit: String::new() })
    }

    /// The same, if a range can run from the one to the other.
    fn checked(self, text: &str, geometric: bool) -> Result<Self, (String, String)> {
        if self.low >= self.high {
            let wrong = format!("{} does not run upwards", quoted(text));
            return Err((wrong, "put LOW first".to_owned()));
        }
        if geometric && self.low <= 0.0 {
            let wrong = format!("{} begins at nought or below", quoted(text));
            return Err((wrong, "even multiples (log) need a LOW above nought".to_owned()));
        }
        Ok(self)
    }

    /// The value at a share of the way, as it would be written.
    fn write_at(&self, share: f64, geometric: bool, whole: bool) -> String {
        let value = if geometric {
            self.low * (self.high / self.low).powf(share)
        } else {
            self.low + share * (self.high - self.low)
        };
        let value = if whole { value.round() } else { value };
        format!("{} {}", tidy(value), self.unit).trim_end().to_owned()
    }
}
