//! Every value of a scenario by its dotted key, in SI units, with the place where it was written.

use std::collections::BTreeMap;

use super::toml_text::{Entries, Entry, split_item};
use super::value::{Value, read_value};
use crate::params::Spread;
use crate::scenario::diagnose::{Faults, Place};
use crate::scenario::schema::{LeftOut, key_of};

/// One value; none where what was written could not be read, which has been told already.
#[derive(Clone, Debug, PartialEq)]
struct Stored {
    value: Option<Value>,
    place: Place,
}

/// All values read.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct ValueTable {
    entries: BTreeMap<String, Stored>,
    /// Tables in the order of their first mention.
    tables: Vec<(String, Place)>,
}

impl ValueTable {
    /// Takes in leaves, above what is there already.
    pub(crate) fn take(&mut self, leaves: Entries, faults: &mut Faults) {
        for (table, place) in leaves.tables {
            match self.tables.iter_mut().find(|(known, _)| *known == table) {
                Some((_, known)) if *known == Place::BuiltIn => *known = place,
                Some(_) => {}
                None => self.tables.push((table, place)),
            }
        }
        for leaf in leaves.values {
            self.put(&leaf, faults);
        }
    }

    fn put(&mut self, leaf: &Entry, faults: &mut Faults) {
        let key = key_of(&leaf.key).expect("only known keys become leaves");
        let value = match read_value(key, leaf) {
            Ok(value) => Some(value),
            Err(found) => {
                found.into_iter().for_each(|fault| faults.add(fault));
                None
            }
        };
        self.entries.insert(leaf.key.clone(), Stored { value, place: leaf.place.clone() });
    }

    /// Whether anything is written for a key, readable or not.
    pub(crate) fn has(&self, dotted: &str) -> bool {
        self.entries.contains_key(dotted)
    }

    /// Whether what is written for a key could not be read.
    pub(crate) fn failed(&self, dotted: &str) -> bool {
        self.entries.get(dotted).is_some_and(|entry| entry.value.is_none())
    }

    /// Dotted keys written, with their places.
    pub(crate) fn keys(&self) -> impl Iterator<Item = (&str, &Place)> {
        self.entries.iter().map(|(dotted, entry)| (dotted.as_str(), &entry.place))
    }

    /// Where a key or a table was written.
    pub(crate) fn place(&self, dotted: &str) -> Place {
        let table = || self.tables.iter().find(|(table, _)| table == dotted);
        self.entries
            .get(dotted)
            .map(|entry| entry.place.clone())
            .or_else(|| table().map(|(_, place)| place.clone()))
            .unwrap_or(Place::File)
    }

    /// Tables in the order of their first mention.
    pub(crate) fn tables(&self) -> &[(String, Place)] {
        &self.tables
    }

    /// Whether a table was written.
    pub(crate) fn has_table(&self, dotted: &str) -> bool {
        self.tables.iter().any(|(table, _)| table == dotted)
    }

    /// Names of the tables directly below a table, in the order of the file.
    pub(crate) fn names(&self, table: &str) -> Vec<&str> {
        let below = |dotted: &'_ str| -> Option<usize> {
            let rest = dotted.strip_prefix(table)?.strip_prefix('.')?;
            (!rest.contains('.')).then_some(table.len() + 1)
        };
        self.tables
            .iter()
            .filter_map(|(dotted, _)| below(dotted).map(|start| &dotted[start..]))
            .collect()
    }

    fn given(&self, dotted: &str) -> Option<Value> {
        self.entries.get(dotted).and_then(|entry| entry.value.clone())
    }

    /// What is written, else what holds where the key is left out, if the table of keys says so.
    fn value(&self, dotted: &str) -> Option<Value> {
        self.given(dotted).or_else(|| left_out(dotted))
    }

    /// A number that was written [SI].
    pub(crate) fn given_number(&self, dotted: &str) -> Option<f64> {
        number_of(self.given(dotted))
    }

    /// A number, written or by default [SI]; the lowest allowed where it is required and missing.
    pub(crate) fn number(&self, dotted: &str) -> f64 {
        let lowest = || key_of(dotted).map_or(0.0, |key| key.range.0);
        number_of(self.value(dotted)).unwrap_or_else(lowest)
    }

    /// The number that holds where a key is left out, whatever is written [SI].
    pub(crate) fn default_number(&self, dotted: &str) -> f64 {
        number_of(left_out(dotted)).unwrap_or(0.0)
    }

    /// A spread that was written [SI].
    pub(crate) fn given_spread(&self, dotted: &str) -> Option<Spread> {
        match self.given(dotted) {
            Some(Value::Spread(spread)) => Some(spread),
            _ => None,
        }
    }

    /// A spread, written or by default [SI].
    pub(crate) fn spread(&self, dotted: &str) -> Spread {
        match self.value(dotted) {
            Some(Value::Spread(spread)) => spread,
            _ => Spread::Fixed(0.0),
        }
    }

    /// Text that was written.
    pub(crate) fn given_text(&self, dotted: &str) -> Option<String> {
        match self.given(dotted) {
            Some(Value::Text(text)) => Some(text),
            _ => None,
        }
    }

    /// Text, written or by default; empty where there is neither.
    pub(crate) fn text(&self, dotted: &str) -> String {
        match self.value(dotted) {
            Some(Value::Text(text)) => text,
            _ => String::new(),
        }
    }

    /// A flag, written or by default.
    pub(crate) fn flag(&self, dotted: &str) -> bool {
        self.value(dotted) == Some(Value::Flag(true))
    }
}

fn number_of(value: Option<Value>) -> Option<f64> {
    match value {
        Some(Value::Number(number)) => Some(number),
        _ => None,
    }
}

/// The value that the table of keys gives to a key that is left out.
fn left_out(dotted: &str) -> Option<Value> {
    let leaf = default_entry(dotted)?;
    let key = key_of(dotted)?;
    Some(read_value(key, &leaf).expect("a default is within its own rules"))
}

/// The same as if it had been written.
pub(crate) fn default_entry(dotted: &str) -> Option<Entry> {
    let LeftOut::Is(text) = key_of(dotted)?.default else { return None };
    let item = text.parse().map(toml_edit::Item::Value).expect("a default is a TOML value");
    let leaves = split_item(dotted, &item, &Place::BuiltIn, &mut Faults::default());
    leaves.values.into_iter().next()
}
