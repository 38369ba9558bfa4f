//! Values and keys of a search, in words.

use super::units::{percent, weight};
use super::values::readable_values;
use super::wording::one_line;
use crate::scenario::Units;
use crate::study::{Objective, SearchResult, SettingResult};

/// A value of the objective: a weight, or a chance in per cent.
pub(crate) fn objective_value(best: &SearchResult, value: f64, units: Units) -> String {
    match best.objective {
        Objective::Weight => weight(value, units),
        _ => percent(value.clamp(0.0, 1.0)),
    }
}

/// A key as shown: `recast` if all settings searched belong to one plan, else `two-minutes.recast`.
pub(crate) fn key_shown(best: &SearchResult, key: &str) -> String {
    let plan_of = |key: &str| -> Option<String> {
        Some(key.strip_prefix("plan.")?.split_once('.')?.0.to_owned())
    };
    let mut plans = best.settings.iter().filter_map(|setting| plan_of(&setting.key));
    let first = plans.next();
    let without_prefix = key.strip_prefix("plan.").unwrap_or(key);
    let only_plan = first.filter(|first| plans.all(|plan| plan == *first));
    let short = only_plan.and_then(|plan| without_prefix.strip_prefix(&plan)?.strip_prefix('.'));
    one_line(short.unwrap_or(without_prefix))
}

/// A value of a setting, shown in the same way as the setting's other values.
pub(crate) fn value_shown(setting: &SettingResult, written: &str) -> String {
    let all: Vec<&str> = setting.values.iter().map(String::as_str).collect();
    let index = setting.values.iter().position(|other| other == written);
    index
        .and_then(|index| readable_values(&all).into_iter().nth(index))
        .unwrap_or_else(|| written.to_owned())
}
