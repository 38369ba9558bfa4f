//! The report of a comparison: one page that opens without a network.
//!
//! Verdict first, then what it rests on. It turns finished results and the scenario's plans into a page for
//! people, with a table for every picture; it fetches nothing and runs no script.

mod aims;
mod foot;
mod page;
mod paint;
mod pictures;
mod pieces;
mod plans;
mod shares;
mod standing;
mod why;

pub use page::report_html;

pub(super) use pieces::{document, sentence};
