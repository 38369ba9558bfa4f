//! What a log and advice are worth: choices made with them and without, on waters whose truth is known.

mod advice;
mod asked;
mod choices;
mod practised;
mod tally;
mod waters;
