//! The format of a scenario: its keys with their types, units, ranges and defaults.
//!
//! The table of keys is the single source: the reader, the JSON Schema and the key reference all follow it. It must
//! not know any particular scenario.

mod json_schema;
mod key;
mod keys;
mod plan_keys;
mod reference;
mod rule_keys;
mod units;

pub use json_schema::schema;
pub use reference::key_table_markdown;
pub use units::mass_kg;

pub(super) use key::{
    Key, Kind, LeftOut, MAX_CV, MAX_SESSION_S, NAME, NUMBER, Thing, fits_segment, is_name,
};
pub(super) use keys::{key_of, keys};
pub(super) use units::{Dimension, QuantityError, read_quantity, split_quantity, tidy};
