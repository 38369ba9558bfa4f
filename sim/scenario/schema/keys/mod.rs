//! The keys of the format, one file a subject, and the table of all of them.
//!
//! Each key is a constant with the type of its value, so a misspelt key does not compile. It must not know how
//! values are read.

pub(crate) mod aim_keys;
pub(crate) mod bait_keys;
mod key;
pub(crate) mod plan_keys;
pub(crate) mod rule_keys;
pub(crate) mod session_keys;
pub(crate) mod shoal_keys;
mod table;
mod typed_key;
pub(crate) mod water_keys;

pub(crate) use key::{
    KeyDefault, KeySpec, Kind, MAX_CV, MAX_SESSION_S, NAME, NUMBER, Referent, fits_segment, is_name,
};
pub(crate) use plan_keys::{ChoiceKeys, FeedKeys, FeedTimes};
pub(crate) use shoal_keys::MAX_IN_SHOAL;
pub(crate) use table::{groups, key_of, keys};
pub(crate) use typed_key::{FullKey, Key, KeyPath, Table};
