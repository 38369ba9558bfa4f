//! A book of parameters: the rows of one subject, with a user's own values, drawn for each day.

use std::collections::BTreeMap;

use super::parameter::{Grade, Parameter, PinError, Prior};
use crate::engine::Dice;

/// All parameters of one subject.
#[derive(Clone, Debug, PartialEq)]
pub struct Book {
    /// Name of the subject, as in every dotted key `book.<name>.<row>`.
    pub name: &'static str,
    /// Rows, in the order of the struct that code reads.
    rows: Vec<Parameter>,
}

impl Book {
    /// Reads a built-in book and sorts its rows in the order of `fields`.
    ///
    /// # Panics
    ///
    /// If the text is not a book, or its rows do not match `fields` one to one. Built-in books are part of the program;
    /// a test reads each of them.
    #[must_use]
    pub fn built_in(name: &'static str, text: &str, fields: &[&str]) -> Self {
        let mut by_key: BTreeMap<String, Parameter> =
            toml::from_str(text).unwrap_or_else(|error| panic!("built-in book {name}: {error}"));
        let rows = fields
            .iter()
            .map(|&field| {
                let mut row = by_key
                    .remove(field)
                    .unwrap_or_else(|| panic!("built-in book {name} has no row {field}"));
                row.key = field.to_owned();
                row
            })
            .collect();
        assert!(by_key.is_empty(), "book {name} has rows that no code reads: {:?}", by_key.keys());
        Self { name, rows }
    }

    /// The rows, in the order of the struct that code reads.
    #[must_use]
    pub fn rows(&self) -> &[Parameter] {
        &self.rows
    }

    /// Number of rows whose values are assumed.
    #[must_use]
    pub fn assumed_count(&self) -> usize {
        self.rows.iter().filter(|row| row.grade == Grade::Assumed).count()
    }

    /// Central values, in the order of the rows.
    #[must_use]
    pub fn central(&self) -> Vec<f64> {
        self.rows.iter().map(|row| row.value).collect()
    }

    /// Draws one day's values, in the order of the rows.
    pub fn draw(&self, dice: &mut Dice) -> Vec<f64> {
        self.rows.iter().map(|row| row.draw(dice)).collect()
    }

    /// Sets one row to a user's value, the same every day.
    ///
    /// # Errors
    ///
    /// [`PinError`] if there is no such row or the value is outside its range.
    pub fn set(&mut self, key: &str, value: f64) -> Result<(), PinError> {
        let row = self.rows.iter_mut().find(|row| row.key == key).ok_or(PinError::UnknownRow)?;
        let [low, high] = row.range;
        if !(low..=high).contains(&value) {
            return Err(PinError::OutOfRange { value, low, high, unit: row.unit.clone() });
        }
        row.value = value;
        row.prior = Prior::Fixed;
        Ok(())
    }

    /// Sets one row to a value that may lie outside its range, the same every day: for models with a part switched off.
    ///
    /// # Panics
    ///
    /// If there is no such row.
    pub fn fix_beyond_range(&mut self, key: &str, value: f64) {
        let row = self.rows.iter_mut().find(|row| row.key == key);
        let row = row.unwrap_or_else(|| panic!("book {} has no row {key}", self.name));
        row.value = value;
        row.prior = Prior::Fixed;
    }

    /// Sets every row to its central value, the same every day.
    pub fn fix_all(&mut self) {
        for row in &mut self.rows {
            row.prior = Prior::Fixed;
        }
    }
}
