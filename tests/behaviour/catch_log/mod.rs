//! The catch log: reading, adding casts on the bank, and what a log says.

mod advice;
mod bank;
mod example;
mod fitting;
mod learning;
mod log_shares;
mod next;
mod reading;
mod samples;
mod summaries;
