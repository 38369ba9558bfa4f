//! What the user writes: scenario files read, checked and made ready to run.
//!
//! One table of keys (`keys.rs`) says what may be written; the reader, `--set`, the suggestions, the
//! JSON Schema and the reference of keys all follow it. Human units end here. It must not know how a
//! session is run.

mod assemble;
mod books;
mod check;
mod dials;
mod fault;
mod file;
mod key;
mod keys;
mod larder;
mod plan_keys;
mod plans;
mod quantity;
mod read;
mod ready;
mod reference;
mod rewrite;
mod rule_faults;
mod rule_keys;
mod rules;
mod schema;
mod section;
mod set;
mod sheet;
mod suggest;
mod unknown;
mod value;
mod vary;
mod weigh_ins;
mod written;

pub use books::Books;
pub use dials::{Dial, Stop, dials};
pub use fault::{Fault, Faults, Place};
pub use quantity::mass_kg;
pub use read::{load, read};
pub use ready::{Aims, Keepnet, MOST_LINES, Scenario, SessionKind, Units};
pub use reference::key_table_markdown;
pub use rewrite::{Change, rewrite};
pub use schema::schema;
pub use section::{RivalWeight, Section};
pub use unknown::Unknown;
pub use vary::{Span, has_order, si_value, span, values};
pub use written::Written;
