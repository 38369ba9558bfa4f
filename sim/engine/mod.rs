//! The ground: a clock, an agenda, dice and a watcher. It knows no fish.
//!
//! A model is a [`Process`] with events of its own kind; [`run`] takes the next event from the
//! [`Agenda`] and hands it over, until a time is reached or nothing is left to happen.

mod agenda;
mod dice;
mod run;
mod time;
mod watch;

pub use agenda::Agenda;
pub use dice::Dice;
pub use run::{Process, run};
pub use time::Time;
pub use watch::{Nobody, Record, Watch};
