//! Results in words, tables and pictures.

mod card;
mod colours;
mod page;
mod pictures;
mod sample;
mod trace;
mod words;
