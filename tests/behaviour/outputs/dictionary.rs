//! The dictionary and the schemas agree with each other and with what runs write.
//!
//! `SHOALWISE_BLESS=1 cargo test --test behaviour outputs` writes the dictionary again.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use serde_json::Value;

use super::runs::written;
use crate::command_line::{ProgramFolder, json};

/// A row of the dictionary.
#[derive(Clone, Debug)]
struct DictionaryRow {
    path: String,
    kind: String,
    unit: String,
    meaning: String,
}

fn printed() -> String {
    ProgramFolder::new().run_ok(&["schema", "--describe"]).out
}

/// The rows of each output.
fn dictionary() -> BTreeMap<String, Vec<DictionaryRow>> {
    let mut outputs: BTreeMap<String, Vec<DictionaryRow>> = BTreeMap::new();
    let mut output = String::new();
    for line in printed().lines() {
        if let Some(name) = line.strip_prefix("## ") {
            output = name.trim_matches('`').to_owned();
        } else if line.starts_with("| `") {
            let whole = line.replace("\\|", "\u{1}");
            let cells: Vec<&str> = whole.trim_matches('|').split('|').map(str::trim).collect();
            let &[path, kind, unit, meaning] = &cells[..] else { panic!("{line}") };
            let [path, kind, unit, meaning] = [path, kind, unit, meaning].map(str::to_owned);
            let path = path.trim_matches('`').to_owned();
            outputs.entry(output.clone()).or_default().push(DictionaryRow {
                path,
                kind,
                unit,
                meaning,
            });
        }
    }
    outputs
}

#[test]
fn the_committed_dictionary_is_up_to_date() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("output/DICTIONARY.md");
    let page = printed();
    if std::env::var_os("SHOALWISE_BLESS").is_some() {
        std::fs::write(&path, &page).expect("written");
    }
    let committed = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(
        committed == page,
        "output/DICTIONARY.md is stale: run the tests once with SHOALWISE_BLESS=1"
    );
}

#[test]
fn every_field_has_a_type_and_a_meaning_and_every_number_a_unit() {
    let mut rows = 0;
    for (output, row) in
        dictionary().iter().flat_map(|(output, rows)| rows.iter().map(move |row| (output, row)))
    {
        rows += 1;
        let place = format!("{output}: {row:?}: describe it where it is written");
        assert!(!row.kind.is_empty() && row.meaning.len() > 3, "{place}");
        assert!(!row.meaning.contains("`None`") && !row.meaning.contains("[`"), "{place}");
        let needs_unit = row.kind.contains("number") && !row.kind.contains("whole");
        assert!(!needs_unit || !row.unit.is_empty(), "{place}, and end it with the unit, as [kg]");
    }
    assert!(rows > 300, "{rows}");
}

#[test]
fn no_field_is_described_twice() {
    for (output, rows) in dictionary() {
        let paths: BTreeSet<&String> = rows.iter().map(|row| &row.path).collect();
        assert_eq!(paths.len(), rows.len(), "{output}");
    }
}

/// The paths of a value as the dictionary writes them.
fn paths(value: &Value, path: &str, found: &mut BTreeSet<String>) {
    match value {
        Value::Object(fields) => {
            for (name, value) in fields {
                let path = if path.is_empty() { name.clone() } else { format!("{path}.{name}") };
                found.insert(path.clone());
                paths(value, &path, found);
            }
        }
        Value::Array(values) => {
            values.iter().for_each(|value| paths(value, &format!("{path}[]"), found));
        }
        _ => {}
    }
}

/// Whether a path of the dictionary stands for a path that was written; `<…>` stands for any name.
fn stands_for(described: &str, path: &str) -> bool {
    match (described.split_once('<'), described.rsplit_once('>')) {
        (Some((before, _)), Some((_, after))) => {
            let rest = path.strip_prefix(before).and_then(|rest| rest.strip_suffix(after));
            // Columns of keys have a dot in their name; those in SI units end in one.
            let is_si = path.ends_with("_s") || path.ends_with("_number");
            rest.is_some_and(|rest| !rest.is_empty())
                && (!described.contains("<key>") || path.contains('.'))
                && (!described.contains("_<") || is_si)
        }
        _ => described == path,
    }
}

/// What is rare or not shown: events and what only they have, a book, some ways to go on.
const SELDOM: [&str; 19] = [
    "stamp.book_sha256",
    "waters[].stamp.book_sha256",
    "better.line",
    "better.plan",
    "better.hookbait",
    "better.mix",
    "better.feeder-of",
    "turn.way.line",
    "turn.way.plan",
    "turn.way.hookbait",
    "turn.way.mix",
    "turn.way.feeder-of",
    "event = phase-ends",
    "event = angler-turns",
    "event = angler-looks",
    "event = bite-comes",
    "event = fish-is-foul-hooked",
    "turn",
    "look",
];

#[test]
fn every_field_that_runs_write_is_described_and_every_described_field_is_written() {
    let dictionary = dictionary();
    let names: Vec<&str> = dictionary.keys().map(String::as_str).collect();
    assert_eq!(names, written().keys().copied().collect::<Vec<_>>(), "an output is not run here");
    let mut faults = Vec::new();
    for (&output, documents) in written() {
        let described = || dictionary[output].iter().map(|row| row.path.as_str());
        let mut found = BTreeSet::new();
        documents.iter().for_each(|document| paths(document, "", &mut found));
        let tags = found.clone();
        let is_written = |row: &str| match row.split_once(" = ") {
            Some((tag, value)) => documents.iter().any(|document| document[tag] == value),
            None => tags.iter().any(|path| stands_for(row, path)),
        };
        for path in &found {
            if !described().any(|row| stands_for(row.split(" = ").next().unwrap_or(row), path)) {
                faults.push(format!("{output}: {path} is written but not described"));
            }
        }
        for row in described().filter(|row| !is_written(row) && !SELDOM.contains(row)) {
            faults.push(format!("{output}: {row} is described but not written"));
        }
    }
    assert!(faults.is_empty(), "{faults:#?}");
}

#[test]
fn whatever_runs_write_fits_its_schema() {
    let folder = ProgramFolder::new();
    for (&output, documents) in written() {
        let schema = json(&folder.run_ok(&["schema", output]).out);
        assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
        assert!(jsonschema::meta::is_valid(&schema), "{output}");
        let validator =
            jsonschema::validator_for(&schema).unwrap_or_else(|why| panic!("{output}: {why}"));
        for document in documents {
            let errors: Vec<String> = validator
                .iter_errors(document)
                .map(|error| format!("{}: {error}", error.instance_path))
                .collect();
            assert!(errors.is_empty(), "{output}: {errors:#?}");
        }
    }
}

/// Leaving out, or mistaking the type of, any single field of a document is refused.
#[test]
fn a_schema_refuses_what_lacks_a_field_or_has_another_type() {
    let folder = ProgramFolder::new();
    let mut tried = 0;
    let outputs = [
        "summary.json",
        "sessions.csv",
        "catches.csv",
        "waters.json",
        "waters.csv",
        "stamp.json",
        "learn.json",
        "now",
    ];
    for output in outputs {
        let schema = json(&folder.run_ok(&["schema", output]).out);
        let validator = jsonschema::validator_for(&schema).expect("a schema");
        let document = &written()[output][0];
        for name in document.as_object().expect("an object").keys() {
            let mut changed = document.clone();
            changed[name.as_str()] = serde_json::json!({ "not": ["this"] });
            assert!(!validator.is_valid(&changed), "{output}: {name} may be anything");
            // Which shoals have columns differs between runs.
            let is_of_a_shoal = output.ends_with(".csv") && name.contains('.');
            changed.as_object_mut().expect("an object").remove(name);
            assert_eq!(
                validator.is_valid(&changed),
                is_of_a_shoal,
                "{output}: whether {name} may be left out"
            );
            tried += 1;
        }
        let other = serde_json::json!("shoalwise/other/9");
        if document.get("format").is_some() {
            let mut changed = document.clone();
            changed["format"] = other;
            assert!(!validator.is_valid(&changed), "{output}: any format fits");
        }
    }
    assert!(tried > 50, "{tried}");
}
