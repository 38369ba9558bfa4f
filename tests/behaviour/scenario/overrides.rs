//! Every key can be overridden on the command line.

use serde_json::Value;
use sim::scenario::{Scenario, WrittenScenario, read, scenario_json_schema};

/// One item of every kind that a key can belong to, all named `a` and `b`.
const EVERYTHING: &str = r#"
[session]
date = "2026-06-05"
[keepnet]
[water.sounding.a]
distance = "3 m"
depth = "1 m"
[water.feature.a]
out = "20 m"
half_length = "5 m"
half_width = "3 m"
[line.a]
distance = "12 m"
[line.b]
distance = "13 m"
[bait.a]
like = "pellets-4mm"
[bait.b.class.a]
diameter = "1 mm"
share = 0.5
[bait.b.class.b]
diameter = "2 mm"
share = 0.5
[hookbait.a]
[hookbait.b]
lasts = "3 min"
[shoal.a]
[plan.a]
bait = "a"
hookbait = "a"
feed.a.amount = "5 g"
target = "10 kg"
[plan.a.phase.1]
[plan.a.rule.a]
after = "5 min"
fish_show = 2
line = "b"
recast = "7 min"
[section]
weight = "9 kg"
"#;

/// Dotted keys of the schema, each with the schema of its value.
fn leaves(schema: &Value, above: &str, found: &mut Vec<(String, Value)>) {
    let named = schema["properties"].as_object().into_iter().flatten();
    let patterned = schema["patternProperties"].as_object().into_iter().flatten();
    for (word, below) in named.chain(patterned) {
        let word = match word.as_str() {
            "^[1-9][0-9]{0,2}$" => "1",
            pattern if pattern.starts_with('^') => "a",
            literal => literal,
        };
        let dotted = if above.is_empty() { word.to_owned() } else { format!("{above}.{word}") };
        if below["additionalProperties"] == Value::Bool(false) {
            leaves(below, &dotted, found);
        } else {
            found.push((dotted, below.clone()));
        }
    }
}

/// Values to try for a key, as typed on the command line.
fn candidates(key: &str, schema: &Value) -> Vec<String> {
    let one = schema["anyOf"].get(0).unwrap_or(schema);
    if let Some(words) = one["enum"].as_array() {
        return words.iter().filter_map(Value::as_str).map(str::to_owned).collect();
    }
    let texts: &[&str] = match one["$ref"].as_str().unwrap_or("") {
        "#/$defs/time" if key.ends_with(".to_sunset") => &["9 h"],
        "#/$defs/time" => &["13min", "13 s"],
        "#/$defs/mass" | "#/$defs/bait" => &["1.7kg", "70 g", "0.7 g"],
        "#/$defs/length" => &["17m", "70 m", "1.7 m", "7 mm"],
        "#/$defs/temperature" => &["17C"],
        "#/$defs/temperature_difference" => &["1.5C"],
        "#/$defs/stock" => &["410 kg/ha"],
        "#/$defs/speed" => &["17 km/h"],
        "#/$defs/density" => &["1170 kg/m3"],
        "#/$defs/attractant" => &["17 mmol/kg"],
        "#/$defs/oxygen" => &["7.7 mg/L"],
        "#/$defs/angle" => &["17 deg"],
        "" if one["type"] == "boolean" => &["true", "false"],
        "" if key == "session.date" => &["2026-07-04"],
        "" if key == "session.start" => &["7:30"],
        "" if key.ends_with(".clock_from") => &["13:15"],
        "" if key.ends_with(".at") => &["13:15"],
        "" if one["type"] == "string" => &["b", "micro-pellets", "worm", "a"],
        "" => &[],
        other => panic!("{key}: no example for {other}"),
    };
    if !texts.is_empty() {
        return texts.iter().map(|text| (*text).to_owned()).collect();
    }
    let end = |word: &str| one[word].as_f64().unwrap_or_else(|| panic!("{key}: no {word}"));
    let (low, high) = (end("minimum"), end("maximum"));
    vec![low.to_string(), high.to_string(), (0.3f64.clamp(low, high)).to_string()]
}

/// The scenario with all items, without those that exclude the key.
fn text_for(key: &str) -> String {
    match key {
        "water.depth" => {
            EVERYTHING.replace("[water.sounding.a]\ndistance = \"3 m\"\ndepth = \"1 m\"\n", "")
        }
        _ => without_alternatives(key),
    }
}

/// The scenario with all items, written so that a key of two that exclude each other can be set.
fn without_alternatives(key: &str) -> String {
    let placed = ["water.sounding.a.across", "water.sounding.a.out"];
    let replaced = |from: &str, to: &str| EVERYTHING.replacen(from, to, 1);
    match key {
        key if placed.contains(&key) => {
            replaced("distance = \"3 m\"", "across = \"1 m\"\nout = \"3 m\"")
        }
        "shoal.a.stock" | "shoal.a.stock_share" => {
            replaced("[shoal.a]", "[shoal.a]\nstock = \"90 kg/ha\"")
        }
        "shoal.a.move.a.at" => {
            replaced("[plan.a]", "[shoal.a.move.a]\nat = \"14:00\"\nto = \"a\"\n[plan.a]")
        }
        "shoal.a.move.a.to_across" | "shoal.a.move.a.to_out" => replaced(
            "[plan.a]",
            "[shoal.a.move.a]\nafter = \"1 h\"\nto_across = \"2 m\"\nto_out = \"9 m\"\n[plan.a]",
        ),
        key if key.starts_with("shoal.a.move") => {
            replaced("[plan.a]", "[shoal.a.move.a]\nafter = \"1 h\"\nto = \"a\"\n[plan.a]")
        }
        _ => EVERYTHING.to_owned(),
    }
}

/// Reads a scenario with overrides and removes its hash, which always differs.
fn scenario(text: &str, sets: &[String]) -> Result<Scenario, String> {
    let mut scenario = read(text, "everything", sets).map_err(|faults| faults.to_string())?;
    scenario.sha256.clear();
    scenario.written = WrittenScenario::default();
    Ok(scenario)
}

#[test]
fn every_key_can_be_set_and_changes_the_scenario() {
    let mut keys = Vec::new();
    leaves(&scenario_json_schema(), "", &mut keys);
    assert!(keys.len() > 150, "only {} keys", keys.len());
    for (key, schema) in keys {
        if key == "section.weigh_ins" {
            // It names a file in the folder of the scenario, and a text has no folder; `aims.rs` tests it.
            continue;
        }
        let text = text_for(&key);
        let before = scenario(&text, &[]).unwrap_or_else(|message| panic!("{message}"));
        let key = key.replace("bait.a.class", "bait.b.class");
        let mut message = Vec::new();
        let reached = candidates(&key, &schema).iter().any(|value| {
            let mut sets = vec![format!("{key}={value}")];
            if key == "bait.b.class.a.share" {
                sets = vec![format!("{key}=0.3"), "bait.b.class.b.share=0.7".to_owned()];
            }
            if key.ends_with(".of_last") {
                // It says of how many fish another key asks.
                sets.push(key.replace("of_last", "fish_below=1 kg"));
            }
            match scenario(&text, &sets) {
                Ok(after) => after != before,
                Err(faults) => {
                    message.push(faults);
                    false
                }
            }
        });
        assert!(reached, "{key} changes nothing\n{}", message.join("\n"));
    }
}
