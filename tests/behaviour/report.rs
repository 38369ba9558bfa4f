//! Results in words, tables and pictures.

mod card;
pub(crate) mod colours;
mod page;
pub(crate) mod pictures;
mod sample;
mod trace;
mod words;
