//! One written value turned into SI units and checked against its key.

use statrs::distribution::{ContinuousCDF, LogNormal};

use super::toml_text::{Entry, RawValue};
use crate::params::Spread;
use crate::scenario::diagnose::{Fault, nearest, quoted};
use crate::scenario::schema::{
    Dimension, Key, Kind, MAX_CV, is_name, read_quantity, split_quantity, tidy,
};

/// A value in SI units.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Value {
    /// A number that is the same every day; infinite where a time has no end.
    Number(f64),
    /// A number that may differ from day to day.
    Spread(Spread),
    /// Text, a choice or a name.
    Text(String),
    /// True or false.
    Flag(bool),
}

/// Parts of a value that differs from day to day.
const PARTS: [&str; 4] = ["low", "high", "mean", "cv"];

/// Reads what is written for a key.
pub(crate) fn read_value(key: &Key, leaf: &Entry) -> Result<Value, Vec<Fault>> {
    if let RawValue::Parts(parts) = &leaf.written {
        return read_parts(key, leaf, parts);
    }
    let scribe = ValueParser { key, dotted: &leaf.key, place: &leaf.place };
    let one = |fault: Box<Fault>| vec![*fault];
    match key.kind {
        Kind::Text | Kind::Choice(_) | Kind::NameOf(_) => {
            scribe.text(&leaf.written).map(Value::Text).map_err(one)
        }
        Kind::Flag => match leaf.written {
            RawValue::Flag(flag) => Ok(Value::Flag(flag)),
            _ => Err(one(scribe.wrong_kind(&leaf.written))),
        },
        _ if key.spreads => {
            scribe.number(&leaf.written).map(|n| Value::Spread(Spread::Fixed(n))).map_err(one)
        }
        _ => scribe.number(&leaf.written).map(Value::Number).map_err(one),
    }
}

fn read_parts(key: &Key, leaf: &Entry, parts: &[Entry]) -> Result<Value, Vec<Fault>> {
    let dotted = &leaf.key;
    if !key.spreads {
        let wrong = "is the same every day and takes one value, not a table";
        let mend = format!("write {}", key.such_as());
        return Err(vec![Fault::new(&leaf.place, dotted, wrong, mend)]);
    }
    let mut faults = Vec::new();
    let mut found: [Option<f64>; 4] = [None; 4];
    for part in parts {
        let name = format!("{dotted}.{}", part.key);
        let Some(at) = PARTS.iter().position(|known| *known == part.key) else {
            let near = nearest(&part.key, PARTS).map(|near| format!("{dotted}.{near}"));
            let mend = "a spread has low and high, or mean and cv";
            let name = if is_name(&part.key) { name } else { dotted.clone() };
            faults.push(Fault::new(&part.place, name, "no such key", mend).near(near));
            continue;
        };
        let cv = Key::new("cv", Kind::Number, key.default.clone(), "").within(0.0, MAX_CV);
        let rule = if part.key == "cv" { &cv } else { key };
        let scribe = ValueParser { key: rule, dotted: &name, place: &part.place };
        match scribe.number(&part.written) {
            Ok(number) => found[at] = Some(number),
            Err(fault) => faults.push(*fault),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    spread_of(key, found)
        .map_err(|(wrong, mend)| vec![Fault::new(&leaf.place, dotted, wrong, mend)])
}

/// The spread of its parts, or what is wrong with them together.
fn spread_of(key: &Key, found: [Option<f64>; 4]) -> Result<Value, (String, String)> {
    let spread = match found {
        [Some(low), Some(high), None, None] if low > high => {
            let wrong = format!("low ({}) is above high ({})", shown(key, low), shown(key, high));
            return Err((wrong, "exchange them".to_owned()));
        }
        [Some(low), Some(high), None, None] if low < high => Spread::Between { low, high },
        [Some(low), Some(_), None, None] => Spread::Fixed(low),
        [None, None, Some(mean), Some(cv)] if cv > 0.0 => {
            check_tail(key, mean, cv)?;
            Spread::About { mean, cv }
        }
        [None, None, Some(mean), Some(_)] => Spread::Fixed(mean),
        _ => {
            return Err((
                "is neither one value nor a whole spread".to_owned(),
                "write { low = …, high = … }, evenly between the two, or { mean = …, cv = … }, \
                 where cv is the standard deviation over the mean"
                    .to_owned(),
            ));
        }
    };
    Ok(Value::Spread(spread))
}

/// A lognormal law has no upper end: holds it so that one day in a hundred stays within the range.
fn check_tail(key: &Key, mean: f64, cv: f64) -> Result<(), (String, String)> {
    if mean <= 0.0 {
        let wrong = format!("mean {} with a cv is no lognormal spread", shown(key, mean));
        return Err((wrong, "give a mean above zero, or low and high".to_owned()));
    }
    let variance_ln = (1.0 + cv * cv).ln();
    let law = LogNormal::new(mean.ln() - 0.5 * variance_ln, variance_ln.sqrt());
    let tail = law.map_or(f64::INFINITY, |law| law.inverse_cdf(0.99));
    if tail > key.range.1 {
        let wrong = format!("one day in a hundred would be above {}", shown(key, tail));
        return Err((wrong, format!("lower mean or cv: it must stay in {}", key.shown_range())));
    }
    Ok(())
}

fn shown(key: &Key, si: f64) -> String {
    match key.kind {
        Kind::Quantity(dimension) => dimension.show(si),
        Kind::TimeOr(_) => Dimension::Time.show(si),
        _ => tidy(si).to_string(),
    }
}

/// Reads single values for one key and words what is wrong with them.
struct ValueParser<'a> {
    key: &'a Key,
    dotted: &'a str,
    place: &'a Place,
}

impl ValueParser<'_> {
    fn fault(&self, wrong: impl Into<String>, mend: impl Into<String>) -> Box<Fault> {
        Box::new(Fault::new(self.place, self.dotted, wrong, mend))
    }

    /// The fault of a value of the wrong kind altogether.
    fn wrong_kind(&self, written: &RawValue) -> Box<Fault> {
        let wrong = match written {
            RawValue::Text(text) => format!("{} is text", quoted(text)),
            RawValue::Number(number) => format!("{number} is a bare number"),
            RawValue::Flag(flag) => format!("{flag} is true or false"),
            RawValue::Parts(_) => "is a table".to_owned(),
            RawValue::List => "is a list".to_owned(),
            RawValue::Date(date) => format!("{} is a date or a time of day", quoted(date)),
        };
        self.fault(wrong, format!("write {}", self.key.such_as()))
    }

    fn number(&self, written: &RawValue) -> Result<f64, Box<Fault>> {
        let number = match (self.key.kind, written) {
            (Kind::TimeOr(word), RawValue::Text(text)) if text.trim() == word => {
                return Ok(f64::INFINITY);
            }
            (Kind::Quantity(dimension), _) => self.quantity(dimension, written)?,
            (Kind::TimeOr(_), _) => self.quantity(Dimension::Time, written)?,
            (_, RawValue::Number(number)) => *number,
            (_, RawValue::Text(text)) => return Err(self.text_for_number(text)),
            _ => return Err(self.wrong_kind(written)),
        };
        if !number.is_finite() {
            return Err(self.fault(format!("{number} is no finite number"), self.range_mend()));
        }
        if self.key.kind == Kind::Whole && number.fract().abs() > 0.0 {
            return Err(self.fault(format!("{number} is no whole number"), self.range_mend()));
        }
        let (low, high) = self.key.range;
        // Units are turned with rounding: what is written as an end of the range is that end.
        let slack = 1e-9 * low.abs().max(high.abs()).min(number.abs());
        if number < low - slack || number > high + slack {
            let as_written = match written {
                RawValue::Text(text) => quoted(text),
                _ => number.to_string(),
            };
            return Err(self.fault(format!("{as_written} is out of range"), self.range_mend()));
        }
        Ok(number.clamp(low, high))
    }

    fn range_mend(&self) -> String {
        let range = self.key.shown_range();
        if range.is_empty() {
            format!("write {}", self.key.such_as())
        } else {
            format!("it may be {range}")
        }
    }

    fn quantity(&self, dimension: Dimension, written: &RawValue) -> Result<f64, Box<Fault>> {
        match written {
            RawValue::Text(text) => read_quantity(text, dimension)
                .map_err(|why| Box::new(self.fault(why.wrong, why.mend).near(why.nearest))),
            RawValue::Number(number) => {
                let mend = format!("write {}", dimension.such_as());
                Err(self.fault(format!("{number} has no unit"), mend))
            }
            _ => Err(self.wrong_kind(written)),
        }
    }

    /// Text where a bare number is needed.
    fn text_for_number(&self, text: &str) -> Box<Fault> {
        let number = split_quantity(text);
        match number.as_deref() {
            Some([part]) if part.unit.is_empty() => self.fault(
                format!("{} stands in quotation marks", quoted(text)),
                format!("write {} without them", part.number),
            ),
            Some([part]) if part.unit == "%" => self.fault(
                format!("{} is a percentage", quoted(text)),
                format!("write it as a share: {}", tidy(part.number / 100.0)),
            ),
            _ => self.fault(
                format!("{} is no number", quoted(text)),
                format!("write {}", self.key.such_as()),
            ),
        }
    }

    fn text(&self, written: &RawValue) -> Result<String, Box<Fault>> {
        const LONGEST: usize = 200;
        let RawValue::Text(text) = written else {
            return Err(self.wrong_kind(written));
        };
        if let Kind::Choice(words) = self.key.kind {
            if words.contains(&text.as_str()) {
                return Ok(text.clone());
            }
            let near = nearest(text, words.iter().copied());
            let mend = format!("write {}", self.key.such_as());
            return Err(Box::new(
                self.fault(format!("{} is not known here", quoted(text)), mend).near(near),
            ));
        }
        if text.chars().count() > LONGEST || text.contains(char::is_control) {
            let mend = format!("at most {LONGEST} letters, on one line");
            return Err(
                self.fault(format!("{} is too long or holds control marks", quoted(text)), mend)
            );
        }
        Ok(text.clone())
    }
}
