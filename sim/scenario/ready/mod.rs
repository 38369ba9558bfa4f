//! A scenario ready to run: checked values in SI units, and which of them differ from day to day.
//!
//! It must not know how a scenario is written.

mod books;
mod scenario;
mod section;
mod uncertain_inputs;

pub use books::Books;
pub use scenario::{Aims, Keepnet, MOST_LINES, Scenario, SessionKind, Units};
pub use section::{RivalWeight, Section};
pub use uncertain_inputs::Unknown;
