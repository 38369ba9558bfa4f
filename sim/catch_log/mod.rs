//! The catch log: what an angler wrote down, one row a cast, casts without a bite included.
//!
//! [`read_catch_log`] reads a log and reports everything that is wrong with it at once; [`BankLog`] adds casts to one on
//! the bank. A log holds what was observed and nothing else: it must not know what follows from it.

mod bank_entry;
mod bank_log;
mod cast;
mod clock;
mod columns;
mod file;
mod order;
mod read;
mod row;
mod write;

pub use cast::{CastEnd, CatchLog, EndKind, LoggedCast, LoggedCatch, LoggedSession};
pub use file::{load_catch_log, read_catch_log_from};
pub use read::read_catch_log;
pub use write::catch_log_text;

// What only the two front ends and tests use.
#[doc(hidden)]
pub use bank_entry::{BankEntry, TimedEntry};
#[doc(hidden)]
pub use bank_log::BankLog;
#[doc(hidden)]
pub use clock::{clock_text, read_clock_s};
#[doc(hidden)]
pub use columns::{LOG_COLUMNS, LogColumn, catch_log_template};
#[doc(hidden)]
pub use file::{read_log_text, save_log_text};
