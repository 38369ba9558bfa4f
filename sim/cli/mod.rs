//! The command line: one of two doors into the house.
//!
//! Reads what was asked, calls the rooms below, prints, and says by its exit code how it ended. What is computed,
//! and how it is put into words, is decided below.

mod args;
mod axis;
mod check;
mod compare;
mod door;
mod doubt;
mod ended;
mod interrupt;
mod params;
mod progress;
mod reading;
mod replay;
mod vary;

pub use args::{CheckArgs, Command, CompareArgs, ParamsArgs, ReplayArgs};
pub use check::check;
pub use compare::compare;
pub use door::open;
pub use ended::Ended;
pub use params::params;
pub use replay::replay;
