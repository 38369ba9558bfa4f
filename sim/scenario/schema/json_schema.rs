//! The format as a JSON Schema, so that editors can check and complete a scenario.

use serde_json::{Map, Value, json};

use super::keys::{KeyDefault, KeySpec, Kind, MAX_CV, NAME, NUMBER, keys};
use super::units::Dimension;

/// Names of the user's own, roughly; the reader allows only letters, digits, `-` and `_`.
const NAME_PATTERN: &str = r"^[^\s.]{1,64}$";
/// Phase numbers.
const NUMBER_PATTERN: &str = "^[1-9][0-9]{0,2}$";

/// The format of a scenario as a JSON Schema (2020-12).
///
/// It covers keys, kinds, units, choices and the ranges of bare numbers; the ranges of quantities are in the
/// descriptions. Only the reader checks what depends on several keys (names, phases, shares).
#[must_use]
pub fn scenario_json_schema() -> Value {
    let all: Vec<_> = keys().map(|key| (key.pattern, key)).collect();
    let mut root = Map::new();
    root.insert("$schema".to_owned(), json!("https://json-schema.org/draft/2020-12/schema"));
    root.insert("title".to_owned(), json!("A shoalwise scenario"));
    root.insert(
        "description".to_owned(),
        json!(
            "Generated from the reader's table of keys; a test checks that it is up to date. Do not edit."
        ),
    );
    root.append(&mut table(&all));
    root.insert("required".to_owned(), json!(["line", "plan"]));
    for table in ["line", "plan"] {
        root["properties"][table]["minProperties"] = json!(1);
    }
    root.insert("$defs".to_owned(), Value::Object(definitions()));
    Value::Object(root)
}

/// The schema of a table from its keys; each comes with the rest of its pattern.
fn table(keys: &[(&str, &KeySpec)]) -> Map<String, Value> {
    let mut words: Vec<&str> = Vec::new();
    for (rest, _) in keys {
        let word = rest.split('.').next().unwrap_or(rest);
        if !words.contains(&word) {
            words.push(word);
        }
    }
    let (mut named, mut patterned) = (Map::new(), Map::new());
    let mut required = Vec::new();
    for word in words {
        let below: Vec<(&str, &KeySpec)> = keys
            .iter()
            .filter_map(|(rest, key)| {
                rest.strip_prefix(word)?.strip_prefix('.').map(|rest| (rest, *key))
            })
            .collect();
        let leaf = keys.iter().find(|(rest, _)| *rest == word).map(|(_, key)| *key);
        let schema = match leaf {
            Some(key) => value(key),
            None => Value::Object(table(&below)),
        };
        if leaf.is_some_and(|key| key.default == KeyDefault::Required) {
            required.push(word);
        }
        match word {
            NAME => patterned.insert(NAME_PATTERN.to_owned(), schema),
            NUMBER => patterned.insert(NUMBER_PATTERN.to_owned(), schema),
            literal => named.insert(literal.to_owned(), schema),
        };
    }
    let mut object = Map::new();
    object.insert("type".to_owned(), json!("object"));
    if !named.is_empty() {
        object.insert("properties".to_owned(), Value::Object(named));
    }
    if !patterned.is_empty() {
        object.insert("patternProperties".to_owned(), Value::Object(patterned));
    }
    if !required.is_empty() {
        object.insert("required".to_owned(), json!(required));
    }
    object.insert("additionalProperties".to_owned(), json!(false));
    object
}

/// The schema of one value.
fn value(key: &KeySpec) -> Value {
    let mut description = key.description.to_owned();
    let range = key.shown_range();
    if !range.is_empty() {
        description.push_str(&format!(" {range}."));
    }
    let mut schema = Map::new();
    schema.insert("description".to_owned(), json!(description));
    match key.default {
        KeyDefault::Value(text) => {
            let default = text.parse().expect("a default is a TOML value");
            schema.insert("default".to_owned(), json_of(&default));
        }
        KeyDefault::Described(rule) => {
            let description = format!("{description} If left out: {rule}.");
            schema.insert("description".to_owned(), json!(description));
        }
        KeyDefault::Required | KeyDefault::RequiredOrInherited => {}
    }
    let single = single_value(key);
    if key.varies {
        let low_high = spread(&[("low", single.clone()), ("high", single.clone())]);
        let cv = json!({ "type": "number", "minimum": 0, "maximum": MAX_CV });
        let mean_cv = spread(&[("mean", single.clone()), ("cv", cv)]);
        schema.insert("anyOf".to_owned(), json!([single, low_high, mean_cv]));
    } else if let Value::Object(mut single) = single {
        schema.append(&mut single);
    }
    Value::Object(schema)
}

fn spread(parts: &[(&str, Value)]) -> Value {
    let names: Vec<_> = parts.iter().map(|(name, _)| *name).collect();
    let properties: Map<_, _> =
        parts.iter().map(|(name, schema)| ((*name).to_owned(), schema.clone())).collect();
    json!({
        "type": "object",
        "properties": properties,
        "required": names,
        "additionalProperties": false,
    })
}

fn single_value(key: &KeySpec) -> Value {
    let bounded = |kind: &str| {
        let (low, high) = key.range;
        json!({ "type": kind, "minimum": low, "maximum": high })
    };
    match key.kind {
        Kind::Quantity(dimension) => json!({ "$ref": format!("#/$defs/{}", anchor(dimension)) }),
        Kind::TimeOr(word) => {
            json!({ "anyOf": [{ "$ref": "#/$defs/time" }, { "const": word }] })
        }
        Kind::Number => bounded("number"),
        Kind::Whole => bounded("integer"),
        Kind::Text => json!({ "type": "string", "maxLength": 200 }),
        Kind::Choice(words) => json!({ "enum": words }),
        Kind::NameOf(_) => json!({ "type": "string", "pattern": NAME_PATTERN }),
        Kind::Flag => json!({ "type": "boolean" }),
    }
}

fn anchor(dimension: Dimension) -> &'static str {
    match dimension.noun() {
        "amount of bait" => "bait",
        "amount of attractant" => "attractant",
        "oxygen content" => "oxygen",
        "temperature difference" => "temperature_difference",
        noun => noun,
    }
}

fn definitions() -> Map<String, Value> {
    Dimension::ALL
        .into_iter()
        .map(|dimension| {
            let units: Vec<_> = dimension.spellings().collect();
            let term = format!(r"[+-]?[0-9]+(\.[0-9]+)?([eE][+-]?[0-9]+)?\s*({})", units.join("|"));
            let pattern = if dimension == Dimension::Bait {
                let number = r"[+-]?[0-9]+(\.[0-9]+)?([eE][+-]?[0-9]+)?";
                let lengths: Vec<_> = Dimension::Length.spellings().collect();
                let pellets =
                    format!(r"{number}\s*pellets? of \s*{number}\s*({})", lengths.join("|"));
                format!(r"^\s*({term}(\s*{term})*|{pellets})\s*$")
            } else if dimension.compounds() {
                format!(r"^\s*{term}(\s*{term})*\s*$")
            } else {
                format!(r"^\s*{term}\s*$")
            };
            let counted = match dimension {
                Dimension::Bait => ", or a number of pellets such as \"20 pellets of 6 mm\"",
                _ => "",
            };
            let description = format!("Units: {}{counted}.", dimension.unit_list());
            let schema = json!({
                "type": "string",
                "pattern": pattern,
                "description": description,
            });
            (anchor(dimension).to_owned(), schema)
        })
        .collect()
}

fn json_of(value: &toml_edit::Value) -> Value {
    match value {
        toml_edit::Value::String(text) => json!(text.value()),
        toml_edit::Value::Integer(number) => json!(number.value()),
        toml_edit::Value::Float(number) => json!(number.value()),
        toml_edit::Value::Boolean(flag) => json!(flag.value()),
        toml_edit::Value::InlineTable(table) => {
            table.iter().map(|(name, part)| (name.to_owned(), json_of(part))).collect()
        }
        _ => Value::Null,
    }
}
