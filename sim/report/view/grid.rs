//! Settings that form a grid: every combination of the values of each key.

use crate::report::format::readable_values;
use crate::study::{SweepResult, SweptPlan};

/// One plan at every combination of the values of each key.
pub(crate) struct SettingGrid<'a> {
    /// For each key, its values as shown, in order.
    pub(crate) values: Vec<Vec<String>>,
    /// Cells; the last key varies fastest.
    cells: Vec<&'a SweptPlan>,
}

impl<'a> SettingGrid<'a> {
    /// The grid that the settings form; `None` if they form none, as randomly sampled ones.
    pub(crate) fn new(swept: &'a SweepResult, plan: usize) -> Option<Self> {
        let distinct = |key: usize| {
            let mut values: Vec<&str> = Vec::new();
            for setting in &swept.settings {
                let value = setting.values.get(key).map_or("", String::as_str);
                if !values.contains(&value) {
                    values.push(value);
                }
                // Sampled points differ in every value: a part of them is enough to see that they form no grid.
                if values.len().pow(2) > 4 * swept.settings.len().max(256) * swept.keys.len() {
                    return None;
                }
            }
            Some(values)
        };
        let values = (0..swept.keys.len()).map(distinct).collect::<Option<Vec<_>>>()?;
        let size: usize = values.iter().map(Vec::len).product();
        if size != swept.settings.len() {
            return None;
        }
        let cells = swept.settings.iter().map(|setting| setting.plans.get(plan));
        Some(Self {
            values: values.iter().map(|values| readable_values(values)).collect(),
            cells: cells.collect::<Option<_>>()?,
        })
    }

    /// The cell at the given index of each key's values.
    pub(crate) fn cell(&self, indices: &[usize]) -> &'a SweptPlan {
        let sizes = self.values.iter().map(Vec::len);
        let number =
            indices.iter().zip(sizes).fold(0, |number, (index, size)| number * size + index);
        self.cells[number]
    }
}
