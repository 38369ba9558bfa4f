//! Fish: growth, perception, appetite and feeding.

mod feeding;
mod growth;
mod hunger;
mod perception;
