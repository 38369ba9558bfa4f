//! The format of a scenario: its keys with their types, units, ranges and defaults.
//!
//! The table of keys is the single source: the reader, the JSON Schema and the key reference all follow it. It must
//! not know any particular scenario.

mod books;
mod choices;
mod format_keys;
mod json_schema;
mod keys;
mod limits;
mod reference;
mod units;

pub use books::Books;
pub use choices::{SessionKind, Units};
pub use format_keys::{FormatKey, FormatValues, format_keys};
pub use json_schema::scenario_json_schema;
pub use limits::MAX_LINES;
pub use reference::key_reference_markdown;
pub use units::{
    HANDFUL_KG, POUCH_KG, measured_baits_kg, read_bait_kg, read_duration_s, read_mass_kg,
};

pub(super) use choices::{Choice, FoulHooked};
pub(super) use keys::{
    ChoiceKeys, FeedKeys, FeedTimes, FullKey, Key, KeyDefault, KeyPath, KeySpec, Kind,
    MAX_IN_SHOAL, MAX_SESSION_S, NAME, NUMBER, Referent, Table, fits_segment, is_name, key_of,
    keys,
};
pub(super) use keys::{
    aim_keys as aim, bait_keys as bait, plan_keys as plan, rule_keys as rule,
    session_keys as session, shoal_keys as shoal, water_keys as water,
};
pub(super) use limits::{ENTRY_LIMITS, EntryLimit};
pub(super) use units::{Dimension, read_quantity, split_quantity, tidy};
