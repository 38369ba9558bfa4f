//! The values of one scenario: its text split into dotted keys, overridden by `--set`, each read by its key.
//!
//! A value is checked against its own key only. It must not know how values belong together.

mod names;
mod overrides;
mod toml_text;
mod value;
mod value_table;

pub(super) use names::Names;
pub(super) use overrides::{apply_overrides, bad_name, item_from_text, split_assignment};
pub(super) use toml_text::{not_toml, place_in, split_text, unknown_key};
pub(super) use value::SiValue;
pub(super) use value_table::{ValueTable, default_of};
