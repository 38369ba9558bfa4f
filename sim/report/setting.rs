//! What a setting of several keys is called, and the grid that settings make.

use super::value::shown_values;
use crate::study::{VariedPlan, Vary};

/// A setting as it is said: `recast 2 min, load 25 g`.
///
/// ```
/// let keys = ["plan.a.recast".to_owned(), "plan.a.load".to_owned()];
/// let name = sim::report::setting_name(&keys, &["119.99 s".to_owned(), "25 g".to_owned()]);
/// assert_eq!(name, "recast 2 min, load 25 g");
/// ```
#[must_use]
pub fn setting_name(keys: &[String], values: &[String]) -> String {
    let said = short_keys(keys).into_iter().zip(values);
    let said: Vec<String> = said
        .map(|(key, value)| format!("{key} {}", shown_values(&[value.as_str()]).join("")))
        .collect();
    said.join(", ")
}

/// Keys by their last word; in full where two would be called the same.
pub(super) fn short_keys(keys: &[String]) -> Vec<String> {
    let last = |key: &String| key.rsplit('.').next().unwrap_or(key).to_owned();
    let short: Vec<String> = keys.iter().map(last).collect();
    let distinct = (1..short.len()).all(|at| !short[..at].contains(&short[at]));
    if distinct { short } else { keys.to_vec() }
}

/// Settings that are every combination of some values, for one plan.
pub(super) struct Grid<'a> {
    /// By key, its values as they are shown, in order.
    pub(super) values: Vec<Vec<String>>,
    /// Cells, the last key going through its values first.
    cells: Vec<&'a VariedPlan>,
}

impl<'a> Grid<'a> {
    /// The grid that the settings make; none if they make none, as strewn ones.
    pub(super) fn of(found: &'a Vary, plan: usize) -> Option<Self> {
        let distinct = |key: usize| {
            let mut values: Vec<&str> = Vec::new();
            for setting in &found.settings {
                let value = setting.values.get(key).map_or("", String::as_str);
                if !values.contains(&value) {
                    values.push(value);
                }
                // Strewn points differ in every value: there is no need to see all of them.
                if values.len().pow(2) > 4 * found.settings.len().max(256) * found.keys.len() {
                    return None;
                }
            }
            Some(values)
        };
        let values = (0..found.keys.len()).map(distinct).collect::<Option<Vec<_>>>()?;
        let size: usize = values.iter().map(Vec::len).product();
        if size != found.settings.len() {
            return None;
        }
        let cells = found.settings.iter().map(|setting| setting.plans.get(plan));
        Some(Self {
            values: values.iter().map(|values| shown_values(values)).collect(),
            cells: cells.collect::<Option<_>>()?,
        })
    }

    /// The cell at a value of each key.
    pub(super) fn at(&self, places: &[usize]) -> &'a VariedPlan {
        let sizes = self.values.iter().map(Vec::len);
        let number =
            places.iter().zip(sizes).fold(0, |number, (place, size)| number * size + place);
        self.cells[number]
    }
}
