//! One written value converted to SI units and checked against its key.

use super::toml_text::{Entry, RawValue};
use crate::numerics::{exp, ln, normal_quantile};
use crate::params::DailyDistribution;
use crate::scenario::diagnose::{Diagnostic, SourceLocation, is_hidden, nearest_name, quoted};
use crate::scenario::schema::{
    Choice, Dimension, KeySpec, Kind, is_name, read_quantity, split_quantity, tidy,
};

/// A value in SI units.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum SiValue {
    /// A number that is the same every day; infinite for a time without end.
    Number(f64),
    /// A number that may differ from day to day.
    Spread(DailyDistribution),
    /// Text, a choice or a name.
    Text(String),
    /// True or false.
    Flag(bool),
}

/// A type that the value of a key can have.
pub(crate) trait FromValue: Sized {
    /// The value as this type. `None` if it is of another type.
    fn from_value(value: &SiValue) -> Option<Self>;
    /// The least value of a key.
    fn least(key: &KeySpec) -> Self;
}

impl FromValue for f64 {
    fn from_value(value: &SiValue) -> Option<Self> {
        let SiValue::Number(number) = value else { return None };
        Some(*number)
    }

    fn least(key: &KeySpec) -> Self {
        key.range.0
    }
}

impl FromValue for DailyDistribution {
    fn from_value(value: &SiValue) -> Option<Self> {
        let SiValue::Spread(spread) = value else { return None };
        Some(*spread)
    }

    fn least(key: &KeySpec) -> Self {
        Self::Fixed(key.range.0)
    }
}

impl FromValue for String {
    fn from_value(value: &SiValue) -> Option<Self> {
        let SiValue::Text(text) = value else { return None };
        Some(text.clone())
    }

    fn least(_: &KeySpec) -> Self {
        Self::new()
    }
}

impl FromValue for bool {
    fn from_value(value: &SiValue) -> Option<Self> {
        let SiValue::Flag(flag) = value else { return None };
        Some(*flag)
    }

    fn least(_: &KeySpec) -> Self {
        false
    }
}

impl<C: Choice> FromValue for C {
    fn from_value(value: &SiValue) -> Option<Self> {
        let SiValue::Text(text) = value else { return None };
        let index = C::WORDS.iter().position(|word| word == text)?;
        C::VALUES.get(index).copied()
    }

    fn least(_: &KeySpec) -> Self {
        C::VALUES[0]
    }
}

/// The parts of a spread.
const PARTS: [&str; 4] = ["low", "high", "mean", "cv"];

/// Why parts do not make a spread: the problem and how to fix it.
type SpreadProblem = (String, String);

/// Reads what is written for a key.
pub(super) fn read_value(key: &KeySpec, entry: &Entry) -> Result<SiValue, Vec<Diagnostic>> {
    if let RawValue::Parts(parts) = &entry.raw {
        return read_parts(key, entry, parts);
    }
    let parser = ValueParser { key, dotted: &entry.key, place: &entry.place };
    let value = match key.kind {
        Kind::Text | Kind::Choice(_) | Kind::NameOf(_) => {
            parser.text(&entry.raw).map(SiValue::Text)
        }
        Kind::Flag => match entry.raw {
            RawValue::Flag(flag) => Ok(SiValue::Flag(flag)),
            _ => Err(parser.wrong_kind(&entry.raw)),
        },
        _ if key.varies => parser
            .number(&entry.raw)
            .map(|number| SiValue::Spread(DailyDistribution::Fixed(number))),
        _ => parser.number(&entry.raw).map(SiValue::Number),
    };
    value.map_err(|fault| vec![*fault])
}

fn read_parts(key: &KeySpec, entry: &Entry, parts: &[Entry]) -> Result<SiValue, Vec<Diagnostic>> {
    let dotted = &entry.key;
    if !key.varies {
        let problem = "is the same every day and takes one value, not a table";
        let fix = format!("write {}", key.such_as());
        return Err(vec![Diagnostic::new(&entry.place, dotted, problem, fix)]);
    }
    let mut faults = Vec::new();
    let mut numbers: [Option<f64>; 4] = [None; 4];
    for part in parts {
        let name = format!("{dotted}.{}", part.key);
        let Some(index) = PARTS.iter().position(|known| *known == part.key) else {
            let near = nearest_name(&part.key, PARTS).map(|near| format!("{dotted}.{near}"));
            let fix = "a spread has low and high, or mean and cv";
            let name = if is_name(&part.key) { name } else { dotted.clone() };
            faults.push(Diagnostic::new(&part.place, name, "no such key", fix).near(near));
            continue;
        };
        let part_key = if part.key == "cv" { &KeySpec::CV } else { key };
        let parser = ValueParser { key: part_key, dotted: &name, place: &part.place };
        match parser.number(&part.raw) {
            Ok(number) => numbers[index] = Some(number),
            Err(fault) => faults.push(*fault),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    spread_from(key, numbers)
        .map(SiValue::Spread)
        .map_err(|(problem, fix)| vec![Diagnostic::new(&entry.place, dotted, problem, fix)])
}

/// The spread with these parts.
fn spread_from(
    key: &KeySpec,
    numbers: [Option<f64>; 4],
) -> Result<DailyDistribution, SpreadProblem> {
    match numbers {
        [Some(low), Some(high), None, None] if low > high => {
            let (low, high) = (key.kind.show(low), key.kind.show(high));
            Err((format!("low ({low}) is above high ({high})"), "swap them".to_owned()))
        }
        [Some(low), Some(high), None, None] if low < high => Ok(DailyDistribution::Uniform { low, high }),
        [Some(low), Some(_), None, None] => Ok(DailyDistribution::Fixed(low)),
        [None, None, Some(mean), Some(cv)] if cv > 0.0 => {
            check_tail(key, mean, cv)?;
            Ok(DailyDistribution::LogNormal { mean, cv })
        }
        [None, None, Some(mean), Some(_)] => Ok(DailyDistribution::Fixed(mean)),
        _ => Err((
            "is neither one value nor a whole spread".to_owned(),
            "write { low = …, high = … } for anything between the two, or { mean = …, cv = … }, where cv is the \
             standard deviation divided by the mean"
                .to_owned(),
        )),
    }
}

/// Checks that 99 of 100 days of a lognormal spread, which has no upper end, are within the range.
fn check_tail(key: &KeySpec, mean: f64, cv: f64) -> Result<(), SpreadProblem> {
    if mean <= 0.0 {
        let problem = format!("a spread cannot have the mean {} and a cv", key.kind.show(mean));
        return Err((problem, "write a mean above zero, or low and high".to_owned()));
    }
    let variance_ln = ln(1.0 + cv * cv);
    let tail = exp(ln(mean) - 0.5 * variance_ln + variance_ln.sqrt() * normal_quantile(0.99));
    if tail > key.range.1 {
        let problem = format!("one day in a hundred would be above {}", key.kind.show(tail));
        let range = key.shown_range();
        return Err((problem, format!("lower mean or cv, so that it stays within {range}")));
    }
    Ok(())
}

/// Reads single values of one key and words what is wrong with them.
struct ValueParser<'a> {
    key: &'a KeySpec,
    dotted: &'a str,
    place: &'a SourceLocation,
}

impl ValueParser<'_> {
    fn fault(&self, problem: impl Into<String>, fix: impl Into<String>) -> Box<Diagnostic> {
        Box::new(Diagnostic::new(self.place, self.dotted, problem, fix))
    }

    fn wrong_kind(&self, raw: &RawValue) -> Box<Diagnostic> {
        let problem = match raw {
            RawValue::Text(text) => format!("{} is text", quoted(text)),
            RawValue::Number(number) => format!("{number} is a bare number"),
            RawValue::Flag(flag) => format!("{flag} is true or false"),
            RawValue::Parts(_) => "is a table".to_owned(),
            RawValue::List => "is a list".to_owned(),
            RawValue::Date(date) => format!("{} is a date or a time of day", quoted(date)),
        };
        self.fault(problem, format!("write {}", self.key.such_as()))
    }

    fn number(&self, raw: &RawValue) -> Result<f64, Box<Diagnostic>> {
        let number = match (self.key.kind, raw) {
            (Kind::TimeOr(word), RawValue::Text(text)) if text.trim() == word => {
                return Ok(f64::INFINITY);
            }
            (Kind::Quantity(dimension), _) => self.quantity(dimension, raw)?,
            (Kind::TimeOr(_), _) => self.quantity(Dimension::Time, raw)?,
            (_, RawValue::Number(number)) => *number,
            (_, RawValue::Text(text)) => return Err(self.text_for_number(text)),
            _ => return Err(self.wrong_kind(raw)),
        };
        if !number.is_finite() {
            return Err(self.fault(format!("{number} is not a finite number"), self.range_fix()));
        }
        if self.key.kind == Kind::Whole && number.fract().abs() > 0.0 {
            return Err(self.fault(format!("{number} is not a whole number"), self.range_fix()));
        }
        let (low, high) = self.key.range;
        // Conversion rounds: what is written as an end of the range is that end.
        let slack = 1e-9 * low.abs().max(high.abs()).min(number.abs());
        if number < low - slack || number > high + slack {
            let shown = match raw {
                RawValue::Text(text) => quoted(text),
                _ => number.to_string(),
            };
            return Err(self.fault(format!("{shown} is out of range"), self.range_fix()));
        }
        Ok(number.clamp(low, high))
    }

    fn range_fix(&self) -> String {
        let range = self.key.shown_range();
        if range.is_empty() {
            format!("write {}", self.key.such_as())
        } else {
            format!("it may be {range}")
        }
    }

    fn quantity(&self, dimension: Dimension, raw: &RawValue) -> Result<f64, Box<Diagnostic>> {
        match raw {
            RawValue::Text(text) => read_quantity(text, dimension).map_err(|error| {
                Box::new(self.fault(error.problem, error.fix).near(error.nearest))
            }),
            RawValue::Number(number) => {
                let fix = format!("write {}", dimension.such_as());
                Err(self.fault(format!("{number} has no unit"), fix))
            }
            _ => Err(self.wrong_kind(raw)),
        }
    }

    /// The fault of text where a bare number is needed.
    fn text_for_number(&self, text: &str) -> Box<Diagnostic> {
        let terms = split_quantity(text);
        match terms.as_deref() {
            Some([term]) if term.unit.is_empty() => self.fault(
                format!("{} is in quotation marks", quoted(text)),
                format!("write {} without them", term.number),
            ),
            Some([term]) if term.unit == "%" => self.fault(
                format!("{} is a percentage", quoted(text)),
                format!("write it as a share: {}", tidy(term.number / 100.0)),
            ),
            _ => self.fault(
                format!("{} is not a number", quoted(text)),
                format!("write {}", self.key.such_as()),
            ),
        }
    }

    fn text(&self, raw: &RawValue) -> Result<String, Box<Diagnostic>> {
        const MAX_LETTERS: usize = 200;
        let RawValue::Text(text) = raw else {
            return Err(self.wrong_kind(raw));
        };
        if let Kind::Choice(words) = self.key.kind {
            if words.contains(&text.as_str()) {
                return Ok(text.clone());
            }
            let near = nearest_name(text, words.iter().copied());
            let fix = format!("write {}", self.key.such_as());
            let problem = format!("{} is not known here", quoted(text));
            return Err(Box::new(self.fault(problem, fix).near(near)));
        }
        if text.chars().count() > MAX_LETTERS || text.contains(is_hidden) {
            let problem = format!("{} is too long or has hidden characters", quoted(text));
            let fix = format!("at most {MAX_LETTERS} letters, on one line");
            return Err(self.fault(problem, fix));
        }
        Ok(text.clone())
    }
}
