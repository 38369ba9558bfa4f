//! Editing a scenario: values to vary, controls of the page, and a text with changes written into it.

mod controls;
mod ranges;
mod rewrite;

pub use controls::{ControlChoice, ScenarioControl, controls};
pub use ranges::{VaryRange, has_ordered_values, si_value, vary_range, vary_values};
pub use rewrite::{ScenarioEdit, rewrite};
