//! Diagnostics: what is wrong with a scenario, where, and how to fix it.
//!
//! The words of a message are chosen by the code that finds the fault. It must not know the keys of the format.

mod diagnostic;
mod suggest;

pub use diagnostic::{Fault, Faults, Place};

pub(super) use diagnostic::quoted;
pub(super) use suggest::{listed, nearest};
