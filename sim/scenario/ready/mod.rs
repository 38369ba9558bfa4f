//! A scenario ready to run: checked values in SI units, and which of them differ from day to day.
//!
//! It must not know how a scenario is read.

mod alternative;
mod bait_ids;
mod bait_inputs;
mod learned_book;
mod mechanism;
mod scenario;
mod section;
mod uncertain_inputs;
mod unknowns;

pub use alternative::Alternative;
pub use learned_book::{LearnedBook, UnknownTarget};
pub use mechanism::Mechanism;
pub use scenario::{Aims, Keepnet, Scenario, WrittenScenario};
pub use section::{RivalWeight, Section};
pub use uncertain_inputs::UncertainInput;
pub use unknowns::Unknown;
