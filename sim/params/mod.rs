//! Books of parameters: every number that the model takes from outside, with its range and source.
//!
//! Each subject keeps its numbers in a `params.toml` next to its code. A [`Book`] reads it, draws one day's values from
//! the priors, and takes a user's own values. `book_struct!` makes the struct of values that code reads. Nothing here
//! knows what a number is for.

mod book;
mod book_struct;
mod daily_distribution;
mod markdown_page;
mod parameter;
mod reference;

pub use book::Book;
pub(crate) use book_struct::book_struct;
pub use daily_distribution::DailyDistribution;
pub use parameter::{Grade, Parameter, PinError, Prior};
pub use reference::Reference;

// What only the command line and tests use.
#[doc(hidden)]
pub use markdown_page::parameters_markdown;
#[doc(hidden)]
pub use reference::bibliography;
