//! Results in words, tables and pictures.

mod pictures;
mod sample;
mod trace;
mod words;
