//! What must come out of whole sessions without being put in.

mod appetite;
mod bank;
mod calibration;
mod capture;
mod choices;
mod gathering;
mod picture;
