//! Writes a whole session down, so that it can be shown again. It looks at the world and changes nothing.

mod recorder;
mod recording;

pub use recorder::film_session;
pub use recording::{Film, Handful, LineFilm, Lying, Move, Tackle, Why};
