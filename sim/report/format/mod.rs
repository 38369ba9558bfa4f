//! Single values in words: weights, times, shares, names, rules and events; and the style of tables.
//!
//! It must not know how plans compare, nor of charts.

mod events;
mod inputs;
mod rules;
mod search;
mod settings;
mod spread;
mod table;
mod units;
mod values;
mod wording;

pub use crate::scenario::grouped;
pub use events::{BankNames, EventNames, bank_line, event_line};
pub use rules::RuleDescription;
pub(crate) use rules::end_tackle;
pub use settings::setting_name;
pub use units::{clock, duration, length, percent, weight, weight_range};
pub use wording::{counted, unbroken, wrapped, wrapped_item};

pub(super) use inputs::{input_value, learned_range, short_input_name};
pub(super) use search::{key_shown, objective_value, value_shown};
pub(super) use settings::short_keys;
pub(super) use spread::{day_range_kg, range_note};
pub(super) use table::{GAP, WIDTH, align_columns, empty_table, trimmed_lines, wrap_column};
pub(super) use units::{
    bait_amount, fine_percent, interval_ends, is_shown_as_zero, number, percent_points,
    range_in_column, trimmed_number, weight_in_column, weight_interval, weight_limit,
    weight_on_axis, weight_unit,
};
pub(super) use values::readable_values;
pub(super) use wording::one_line;
