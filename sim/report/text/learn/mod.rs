//! What a catch log says, in tables and sentences.

mod cautions;
mod recast;
mod session;
mod summary;
mod waits;

pub use summary::learn_text;
