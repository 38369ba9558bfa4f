//! Fish: growth, mouth, perception, fright, appetite and feeding.

mod feeding;
mod fright;
mod growth;
mod hunger;
mod mouth;
mod perception;
mod staying;
