//! What a folder holds that a run must not replace.

use std::fs;
use std::path::Path;

use serde_json::Value;

use super::claim::Claim;
use super::run_files::{RunFile, STAMP_FILE};
use super::run_spec::RunSpec;
use super::run_stamp::RunIdentity;
use crate::report::counted;
use crate::study::Store;

/// Everything that decides the results of a run, as JSON.
fn identity(spec: &RunSpec) -> Value {
    RunIdentity::new(spec).to_json()
}

/// What a folder holds that a run must not replace. `None` if the folder is free.
pub(super) fn content(folder: &Path, spec: &RunSpec, until_clear: bool) -> Option<String> {
    if folder.exists() && !folder.is_dir() {
        return Some("a file instead of a folder".to_owned());
    }
    let Ok(text) = fs::read_to_string(folder.join(STAMP_FILE)) else {
        let new = identity(spec);
        let unfinished = Claim::identity(folder);
        if unfinished.as_ref() == Some(&new) {
            // A run with the same specification was cut short while it wrote its files.
            return None;
        }
        let mut unstamped: Vec<_> = fs::read_dir(folder)
            .ok()?
            .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
            .filter(|name| RunFile::named(name).is_some())
            // A run that ended while it created its store leaves an empty one, which may be replaced.
            .filter(|name| name != Store::FILE || !Store::holds_nothing(&folder.join(name)))
            .collect();
        unstamped.sort();
        let first = unstamped.first()?;
        let differs = unfinished.and_then(|old| first_difference(&old, &new));
        return Some(match differs {
            Some(differs) => format!("unfinished results of another run ({differs})"),
            None => format!("a {first} without a stamp that says where it came from"),
        });
    };
    let Ok(stamp) = serde_json::from_str::<Value>(&text) else {
        return Some("results with an unreadable stamp.json".to_owned());
    };
    let new = identity(spec);
    if let Some(differs) = first_difference(&stamp, &new) {
        return Some(format!("results of another run ({differs})"));
    }
    if until_clear && stamp.get("until_clear") == Some(&Value::Bool(true)) {
        return None;
    }
    let days = stamp.get("days").and_then(Value::as_u64).unwrap_or(u64::MAX);
    (days > u64::from(spec.days))
        .then(|| format!("results of the same run on {}", counted(days, "day")))
}

/// First difference of a stamp from that of a new run, in words. `None` if they describe the same run.
fn first_difference(old: &Value, new: &Value) -> Option<String> {
    let (key, _) =
        new.as_object()?.iter().find(|&(key, value)| old.get(key.as_str()) != Some(value))?;
    Some(difference(key, old, new))
}

/// The values of a list in words; of a long list the first ones.
fn listed(values: &[Value]) -> String {
    const MAX_VALUES: usize = 3;
    let word = |value: &Value| value.as_str().map_or_else(|| value.to_string(), str::to_owned);
    let words: Vec<String> = values.iter().take(MAX_VALUES).map(word).collect();
    match (words.is_empty(), values.len() > MAX_VALUES) {
        (true, _) => "none".to_owned(),
        (false, false) => words.join(", "),
        (false, true) => format!("{} and {} more", words.join(", "), values.len() - MAX_VALUES),
    }
}

/// Difference between two stamps under a key, in words.
fn difference(key: &str, old: &Value, new: &Value) -> String {
    let words = |key: &str, old: &Value, new: &Value| {
        let short = |value: &Value| match value {
            Value::String(text) => text.chars().take(12).collect(),
            Value::Array(values) => listed(values),
            other => other.to_string(),
        };
        format!("{key} {}, not {}", short(old), short(new))
    };
    let (old, new) = (&old[key], &new[key]);
    match new.as_object().and_then(|fields| {
        fields.iter().find(|&(field, value)| old.get(field.as_str()) != Some(value))
    }) {
        Some((field, value)) => words(field, &old[field.as_str()], value),
        None => words(key, old, new),
    }
}
