//! A scenario ready to run: checked values in SI units, and which of them differ from day to day.
//!
//! It must not know how a scenario is read.

mod learned_book;
mod scenario;
mod section;
mod uncertain_inputs;
mod unknowns;

pub use learned_book::{LearnedBook, UnknownTarget};
pub use scenario::{Aims, Keepnet, Scenario};
pub use section::{RivalWeight, Section};
pub use uncertain_inputs::UncertainInput;
pub use unknowns::Unknown;
