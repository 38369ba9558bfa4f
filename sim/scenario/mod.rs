//! Scenario files: reading, checking and editing them, and the scenario ready to run.
//!
//! The table of keys in `schema` defines what a file may contain; the reader, `--set`, the suggestions, the JSON
//! Schema and the key reference all follow it. Units that people write are converted to SI units here. It must not
//! know how a session is run.

mod check;
mod diagnose;
mod edit;
mod read;
mod ready;
mod schema;
mod values;

pub use diagnose::{Fault, Faults, Place, nearest};
pub use edit::{Dial, ScenarioEdit, Span, Stop, dials, has_order, rewrite, si_value, span, values};
pub use read::{Written, load, read};
pub use ready::{Aims, Keepnet, MOST_LINES, RivalWeight, Scenario, Section, Unknown};
pub use schema::{Books, SessionKind, Units, key_table_markdown, mass_kg, schema};
