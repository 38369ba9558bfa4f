//! Results in words, tables and pictures.

pub(crate) mod colours;
pub(crate) mod pictures;
mod sample;
mod trace;
mod words;
