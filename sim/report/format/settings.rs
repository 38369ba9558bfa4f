//! Names of settings: a value for each of several keys.

use super::values::readable_values;

/// A setting by its keys and values: `recast 2 min, load 25 g`.
///
/// ```
/// let keys = ["plan.a.recast".to_owned(), "plan.a.load".to_owned()];
/// let name = sim::report::setting_name(&keys, &["119.99 s".to_owned(), "25 g".to_owned()]);
/// assert_eq!(name, "recast 2\u{a0}min, load 25\u{a0}g");
/// ```
pub fn setting_name(keys: &[String], values: &[String]) -> String {
    let pairs = short_keys(keys).into_iter().zip(values);
    let named: Vec<String> = pairs
        .map(|(key, value)| format!("{key} {}", readable_values(&[value.as_str()]).join("")))
        .collect();
    named.join(", ")
}

/// The last word of each key; whole keys if two last words are the same.
pub(crate) fn short_keys(keys: &[String]) -> Vec<String> {
    let last = |key: &String| key.rsplit('.').next().unwrap_or(key).to_owned();
    let short: Vec<String> = keys.iter().map(last).collect();
    let are_distinct = (1..short.len()).all(|index| !short[..index].contains(&short[index]));
    if are_distinct { short } else { keys.to_vec() }
}
