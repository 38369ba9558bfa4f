//! The engine: clock, agenda and random streams.

mod agenda;
mod dice;
mod queues;

pub(crate) use dice::is_uniform;
