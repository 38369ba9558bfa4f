//! Columns for the keys of a sweep that are numbers.

use crate::scenario::si_value;

/// Columns with the values of the keys in SI units, for the keys whose values are numbers.
pub(super) struct SiColumns {
    /// Name of the column of each key; `None` if its values are not numbers.
    pub(super) names: Vec<Option<String>>,
}

impl SiColumns {
    /// Columns for `keys`, judged by the values at one point.
    pub(super) fn new(keys: &[String], values: Option<&Vec<String>>) -> Self {
        let name = |(index, key): (usize, &String)| {
            let (_, unit) = si_value(key, values?.get(index)?)?;
            Some(format!("{key}_{}", if unit.is_empty() { "number" } else { unit }))
        };
        Self { names: keys.iter().enumerate().map(name).collect() }
    }

    /// Names of all columns, in the order of the keys.
    pub(super) fn names(&self) -> impl Iterator<Item = &String> {
        self.names.iter().flatten()
    }

    /// Values of a point for these columns in SI units, in the order of the keys. `None` for a word among numbers, as
    /// `never` among times.
    pub(super) fn values(&self, keys: &[String], point: &[String]) -> Vec<Option<f64>> {
        let columns = keys.iter().zip(point).zip(&self.names);
        columns
            .filter(|(_, name)| name.is_some())
            .map(|((key, value), _)| si_value(key, value).map(|(si, _)| si))
            .collect()
    }
}
