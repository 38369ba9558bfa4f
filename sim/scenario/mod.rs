//! Scenario files: reading, checking, editing, and the scenario ready to run.
//!
//! The table of keys in `schema` defines what a file may contain; the reader, `--set`, the suggestions, the JSON
//! Schema and the key reference all follow it. Units people write are converted to SI units here. It must not know
//! how a session is run.

mod check;
mod diagnose;
mod edit;
mod read;
mod ready;
mod schema;
mod values;

pub use diagnose::{Fault, Faults, Place};
pub use edit::{Change, Dial, Span, Stop, dials, has_order, rewrite, si_value, span, values};
pub use read::{Written, load, read};
pub use ready::{
    Aims, Books, Keepnet, MOST_LINES, RivalWeight, Scenario, Section, SessionKind, Units, Unknown,
};
pub use schema::{key_table_markdown, mass_kg, schema};
