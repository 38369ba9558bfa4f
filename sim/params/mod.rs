//! Books of parameters: every number that the model takes from outside, with its range and source.
//!
//! A trade keeps its numbers in a `params.toml` beside its code. [`Book`] reads it, draws a day's
//! values from the priors, and takes a user's own values; [`book_of!`](crate::book_of) makes the
//! struct that code reads. Nothing here knows what a number is for.

mod book;
mod row;
mod source;
mod spread;
mod table;

pub use book::Book;
pub use row::{Grade, Prior, Row, Unset};
pub use source::{Source, bibliography};
pub use spread::Spread;
pub use table::markdown;
