//! A discrete-event simulation engine: clock, agenda, random streams and observers. It must not know of fish.
//!
//! A model is a [`Process`] with its own type of events. [`run`] takes the next event from the [`Agenda`] and has the
//! model handle it, until a time is reached or no event is left.

mod agenda;
mod dice;
mod indexed_by;
mod observer;
mod run;
mod time;
mod ziggurat;

pub use agenda::Agenda;
pub use dice::Dice;
pub(crate) use indexed_by::indexed_by;
pub use observer::{EventLog, NullObserver, Observer};
pub use run::{Process, run};
pub use time::Time;
