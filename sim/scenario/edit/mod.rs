//! Editing a scenario: values to vary, controls of the page, and a text with changes written into it.

mod controls;
mod ranges;
mod rewrite;

pub use controls::{Dial, Stop, dials};
pub use ranges::{Span, has_order, si_value, span, values};
pub use rewrite::{ScenarioEdit, rewrite};
