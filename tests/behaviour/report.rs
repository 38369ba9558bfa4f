//! Results in words, tables and pictures.

mod colours;
mod pictures;
mod sample;
mod trace;
mod words;
