//! Patterns that must emerge from whole sessions without being put in.

mod appetite;
mod calibration;
mod capture;
mod choices;
mod gathering;
mod picture;
mod sessions;
