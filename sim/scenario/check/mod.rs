//! Checks between keys: missing keys, unknown names, places outside the water, rules that cannot work.
//!
//! It adds faults and changes nothing.

mod consistency;
mod fish_numbers;
mod places;
mod rule_conflicts;
mod rule_timing;

pub(super) use consistency::{check_keys, check_sizes, missing_key};
pub(super) use fish_numbers::check_fish_numbers;
pub(super) use places::check_places;
pub(super) use rule_conflicts::check_rules;
