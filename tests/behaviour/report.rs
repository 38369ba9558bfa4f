//! Results in words, tables and pictures.

mod card;
pub(crate) mod colours;
mod page;
pub(crate) mod pictures;
pub(crate) mod sample;
mod trace;
mod words;
