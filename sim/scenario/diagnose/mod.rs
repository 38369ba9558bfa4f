//! Faults of a scenario: what is wrong, where, and how to fix it.
//!
//! The words of a message are chosen by the code that finds the fault. It must not know the keys of the format.

mod diagnostic;
mod grouped;
mod plain;
mod suggest;
mod system_fault;

pub use diagnostic::{Diagnostic, Diagnostics, SourceLocation};
pub use grouped::grouped;
pub use plain::{plain_name, shown_plainly};
pub use suggest::nearest_name;

pub(crate) use diagnostic::quoted;
pub(crate) use plain::is_hidden;
pub(super) use suggest::listed;
#[cfg(feature = "program")]
pub(crate) use system_fault::system_fault;
pub(crate) use system_fault::system_problem;
