//! All values of a scenario by dotted key, in SI units, each with the place where it was written.

use std::collections::BTreeMap;

use super::toml_text::{Entries, Entry, raw_value};
use super::value::{FromValue, SiValue, read_value};
use crate::scenario::diagnose::{Diagnostic, Diagnostics, SourceLocation};
use crate::scenario::schema::{FullKey, Key, KeyDefault, KeySpec, Referent, Table, key_of, water};

/// A value that was written; `None` if it could not be read, which has been reported.
#[derive(Clone, Debug, PartialEq)]
struct StoredValue {
    value: Option<SiValue>,
    place: SourceLocation,
}

/// All values read.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct ValueTable {
    values: BTreeMap<String, StoredValue>,
    /// Tables in the order of their first mention.
    tables: Vec<(String, SourceLocation)>,
    /// Values of lines before `--set` changed any.
    lines_of_file: BTreeMap<String, SiValue>,
    /// Index of each table in the list.
    table_index: BTreeMap<String, usize>,
}

impl ValueTable {
    /// Reads entries and puts them over what is there already.
    pub(crate) fn read(&mut self, entries: Entries, faults: &mut Diagnostics) {
        for (table, place) in entries.tables {
            match self.table_index.get(&table).and_then(|&index| self.tables.get_mut(index)) {
                Some((_, known)) if *known == SourceLocation::BuiltIn => *known = place,
                Some(_) => {}
                None => {
                    self.table_index.insert(table.clone(), self.tables.len());
                    self.tables.push((table, place));
                }
            }
        }
        for entry in entries.values {
            self.read_entry(entry, faults);
        }
    }

    fn read_entry(&mut self, entry: Entry, faults: &mut Diagnostics) {
        let key = key_of(&entry.key).expect("only known keys become entries");
        let value = read_value(key, &entry)
            .map_err(|errors| errors.into_iter().for_each(|fault| faults.add(fault)))
            .ok();
        self.values.insert(entry.key, StoredValue { value, place: entry.place });
    }

    /// Whether anything is written for a key, readable or not.
    pub(crate) fn has(&self, key: &impl FullKey) -> bool {
        self.values.contains_key(key.dotted())
    }

    /// Whether a value is written that could not be read.
    pub(crate) fn failed(&self, key: &impl FullKey) -> bool {
        self.values.get(key.dotted()).is_some_and(|stored| stored.value.is_none())
    }

    /// Whether a value that could not be read is written for any key below a table.
    pub(crate) fn failed_below(&self, table: &str) -> bool {
        let below = format!("{table}.");
        self.values.iter().any(|(key, stored)| key.starts_with(&below) && stored.value.is_none())
    }

    /// The texts and names written, by dotted key.
    pub(crate) fn texts(&self) -> impl Iterator<Item = (&str, &str)> {
        self.values.iter().filter_map(|(dotted, stored)| match &stored.value {
            Some(SiValue::Text(text)) => Some((dotted.as_str(), text.as_str())),
            _ => None,
        })
    }

    /// The numbers written, by dotted key [SI].
    pub(crate) fn numbers(&self) -> impl Iterator<Item = (&str, f64)> {
        self.values.iter().filter_map(|(dotted, stored)| match stored.value {
            Some(SiValue::Number(number)) => Some((dotted.as_str(), number)),
            _ => None,
        })
    }

    /// The place where a key or a table was written.
    pub(crate) fn place(&self, dotted: &str) -> SourceLocation {
        let table = || self.tables.get(*self.table_index.get(dotted)?);
        self.values
            .get(dotted)
            .map(|stored| stored.place.clone())
            .or_else(|| table().map(|(_, place)| place.clone()))
            .unwrap_or(SourceLocation::File)
    }

    /// The place where a key or a table was written, otherwise that of the nearest table above it.
    fn nearest_place(&self, dotted: &str) -> SourceLocation {
        let mut dotted = dotted;
        loop {
            match (self.place(dotted), dotted.rsplit_once('.')) {
                (SourceLocation::File, Some((above, _))) => dotted = above,
                (place, _) => return place,
            }
        }
    }

    /// A fault of a key or a table, at the place where it was written, or the table above it.
    pub(crate) fn fault(
        &self,
        dotted: &str,
        problem: impl Into<String>,
        fix: impl Into<String>,
    ) -> Diagnostic {
        Diagnostic::new(&self.nearest_place(dotted), dotted, problem, fix)
    }

    /// Tables in the order of their first mention.
    pub(crate) fn tables(&self) -> &[(String, SourceLocation)] {
        &self.tables
    }

    /// Whether a table was written.
    pub(crate) fn has_table(&self, dotted: &str) -> bool {
        self.table_index.contains_key(dotted)
    }

    /// The names of a table's entries, in the order of the file; `above` are the names in its own path.
    pub(crate) fn names(&self, table: Table, above: &[&str]) -> Vec<&str> {
        self.names_below(&table.at(above))
    }

    /// The names of the tables directly below a dotted name, in the order of the file.
    pub(crate) fn names_below(&self, dotted: &str) -> Vec<&str> {
        let below = |table: &'_ str| -> Option<usize> {
            let rest = table.strip_prefix(dotted)?.strip_prefix('.')?;
            (!rest.contains('.')).then_some(dotted.len() + 1)
        };
        self.tables
            .iter()
            .filter_map(|(table, _)| below(table).map(|start| &table[start..]))
            .collect()
    }

    /// The names that a key may refer to, each once.
    pub(crate) fn names_of(&self, referent: Referent) -> Vec<&str> {
        let mut names: Vec<&str> = Vec::new();
        for name in referent.tables().iter().flat_map(|table| self.names_below(table)) {
            if !names.contains(&name) {
                names.push(name);
            }
        }
        names
    }

    /// Keeps the values of lines as the file has them, before `--set` changes any; those that cannot be read are left
    /// out.
    pub(crate) fn keep_lines_of_file(&mut self, entries: &Entries) {
        let below = format!("{}.", water::LINES.at(&[]));
        for entry in entries.values.iter().filter(|entry| entry.key.starts_with(&below)) {
            let value = key_of(&entry.key).and_then(|key| read_value(key, entry).ok());
            self.lines_of_file.extend(value.map(|value| (entry.key.clone(), value)));
        }
    }

    /// The value of a line as the file has it, whatever `--set` changes. `None` if the file has none that can be read.
    pub(crate) fn line_value_of_file<K: FullKey<Value: FromValue>>(
        &self,
        key: &K,
    ) -> Option<K::Value> {
        K::Value::from_value(self.lines_of_file.get(key.dotted())?)
    }

    /// The value that is written. `None` if there is none or it could not be read.
    pub(crate) fn given<K: FullKey<Value: FromValue>>(&self, key: &K) -> Option<K::Value> {
        let stored = self.values.get(key.dotted())?;
        K::Value::from_value(stored.value.as_ref()?)
    }

    /// The value that is written, otherwise the key's default; the least value if it has none.
    pub(crate) fn value<K: FullKey<Value: FromValue>>(&self, key: &K) -> K::Value {
        self.given(key)
            .or_else(|| K::Value::from_value(&default_value(key.spec())?))
            .unwrap_or_else(|| K::Value::least(key.spec()))
    }

    /// The value that is written, otherwise the key's default, whatever its type.
    pub(crate) fn any_value(&self, key: &impl FullKey) -> Option<SiValue> {
        let stored = self.values.get(key.dotted()).and_then(|stored| stored.value.clone());
        stored.or_else(|| default_value(key.spec()))
    }
}

/// The default of a key, whatever is written; the least value if it has none.
pub(crate) fn default_of<T: FromValue>(key: Key<T>) -> T {
    let default = default_value(&key.spec()).and_then(|value| T::from_value(&value));
    default.unwrap_or_else(|| T::least(&key.spec()))
}

fn default_value(key: &KeySpec) -> Option<SiValue> {
    let entry = default_entry(key.pattern, key)?;
    Some(read_value(key, &entry).expect("a default is within its own range"))
}

/// The default of a key as if it had been written. `None` if it is not a value.
pub(super) fn default_entry(dotted: &str, key: &KeySpec) -> Option<Entry> {
    let KeyDefault::Value(text) = key.default else { return None };
    let item = text.parse().map(toml_edit::Item::Value).expect("a default is a TOML value");
    let place = SourceLocation::BuiltIn;
    let raw = raw_value(&item, &place, &|_| place.clone());
    Some(Entry { key: dotted.to_owned(), raw, place })
}
