//! The report of a comparison: one HTML page that opens without a network.
//!
//! The verdict comes first, then the results it rests on, with a table for every picture. The page fetches nothing and
//! runs no script; it must not work anything out.

mod aims;
mod colours;
mod elements;
mod foot;
mod page;
mod pictures;
mod plans;
mod reasons;
mod time_and_bait;
mod verdict;

pub use page::report_html;

pub(super) use elements::document;
