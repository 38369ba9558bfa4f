//! Checks across keys: missing keys, unknown names, places outside the water, rules that cannot work.
//!
//! It adds faults and changes nothing.

mod consistency;
mod rules;

pub(super) use consistency::{check_keys, check_places, home_at, line_at, missing};
pub(super) use rules::check_rules;
