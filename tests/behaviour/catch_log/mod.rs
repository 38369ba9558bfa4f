//! The catch log: reading, adding casts on the bank, and what a log says.

mod bank;
mod example;
mod learning;
mod reading;
mod samples;
