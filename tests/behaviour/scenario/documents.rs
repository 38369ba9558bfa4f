//! Schema, key reference and example scenarios agree with the reader.
//!
//! `SHOALWISE_BLESS=1 cargo test --test behaviour documents` writes the generated files again.

use std::path::{Path, PathBuf};

use serde_json::Value;
use sim::scenario::{key_reference_markdown, load, read, scenario_json_schema};

const BEGIN: &str = "<!-- keys: begin -->\n";
const END: &str = "<!-- keys: end -->";
const BLESS: &str = "write it anew with: SHOALWISE_BLESS=1 cargo test --test behaviour documents";

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios")
}

fn text_of(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap_or_else(|why| panic!("{}: {why}", path.display()))
}

/// Every shipped scenario.
fn shipped() -> Vec<PathBuf> {
    let mut paths: Vec<_> = std::fs::read_dir(folder())
        .expect("the folder of scenarios")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .filter(|path| !path.to_string_lossy().ends_with(".lessons.toml"))
        .collect();
    paths.sort();
    assert!(paths.len() >= 3, "only {paths:?}");
    paths
}

/// Checks a committed text against the generated one, or writes it where `SHOALWISE_BLESS` is set.
fn check_committed(path: &Path, committed: &str, generated: &str) {
    if std::env::var_os("SHOALWISE_BLESS").is_some() {
        std::fs::write(path, generated).expect("written");
    } else {
        assert!(committed == generated, "{} is stale; {BLESS}", path.display());
    }
}

fn json_of(text: &str) -> Value {
    let table: toml::Table = toml::from_str(text).expect("TOML");
    serde_json::to_value(table).expect("TOML without dates is JSON")
}

#[test]
fn the_committed_schema_is_up_to_date() {
    let path = folder().join("scenario.schema.json");
    let mut generated = serde_json::to_string_pretty(&scenario_json_schema()).expect("JSON");
    generated.push('\n');
    check_committed(&path, &std::fs::read_to_string(&path).unwrap_or_default(), &generated);
}

#[test]
fn the_committed_key_reference_is_up_to_date() {
    let path = folder().join("README.md");
    let committed = text_of(&path);
    let start = committed.find(BEGIN).expect("the mark before the keys") + BEGIN.len();
    let end = committed.find(END).expect("the mark after the keys");
    let generated =
        format!("{}{}{}", &committed[..start], key_reference_markdown(), &committed[end..]);
    check_committed(&path, &committed, &generated);
}

#[test]
fn shipped_scenarios_have_no_faults_and_fit_the_schema() {
    let schema = jsonschema::validator_for(&scenario_json_schema()).expect("a schema");
    for path in shipped() {
        let scenario = load(&path, &[]).unwrap_or_else(|faults| panic!("{faults}"));
        assert!(scenario.plans.len() >= 2, "{} has fewer than two plans", path.display());
        let text = text_of(&path);
        let json = json_of(&text);
        let message: Vec<_> = schema
            .iter_errors(&json)
            .map(|error| format!("{}: {error}", error.instance_path))
            .collect();
        assert!(message.is_empty(), "{}: {message:#?}", path.display());
        assert!(text.contains("invented"), "{} does not say so", path.display());
    }
}

#[test]
fn the_schema_refuses_what_the_reader_refuses() {
    let schema = jsonschema::validator_for(&scenario_json_schema()).expect("a schema");
    let small = "[line.a]\ndistance = \"9 m\"\n[plan.b]\n";
    assert!(schema.is_valid(&json_of(small)));
    let lines = [
        "recast = 2",
        "recast = \"2\"",
        "recast = \"25 g\"",
        "recats = \"2 min\"",
        "load_style = \"bottom\"",
        "squeeze = 99",
        "phase.first.recast = \"2 min\"",
        "recast = { low = \"1 min\", high = \"2 min\" }",
        "[shoal.a]\ncount = 1e9",
        "[shoal.a]\ncount = { low = 3 }",
        "[line.c]\nbearing = \"3 deg\"",
        "[book.fish]\nhearing_m = 1e9",
        "[water.feature.reeds]\nout = \"9 m\"",
    ];
    for line in lines {
        let text = format!("{small}{line}\n");
        assert!(read(&text, "pond", &[]).is_err(), "the reader accepts {line}");
        assert!(!schema.is_valid(&json_of(&text)), "the schema accepts {line}");
    }
    for text in ["", "[line.a]\ndistance = \"9 m\"\n"] {
        assert!(!schema.is_valid(&json_of(text)), "the schema accepts {text:?}");
    }
}

#[test]
fn the_first_example_is_short() {
    let lines = text_of(&folder().join("first-try.toml")).lines().count();
    assert!(lines < 25, "{lines} lines");
}

/// Code blocks of one language in the README of the scenarios.
fn blocks(language: &str) -> Vec<String> {
    let page = text_of(&folder().join("README.md"));
    let fence = format!("```{language}\n");
    page.split(&fence)
        .skip(1)
        .map(|rest| rest.split("```").next().expect("an end").to_owned())
        .collect()
}

#[test]
fn the_examples_of_the_readme_can_be_read_and_set() {
    let text = blocks("toml").concat();
    let sets: Vec<String> = blocks("text")
        .concat()
        .lines()
        .filter_map(|line| line.strip_prefix("--set "))
        .map(|set| set.trim_matches('\'').to_owned())
        .collect();
    assert!(sets.len() >= 6, "{sets:?}");
    for set in sets {
        read(&text, "readme", std::slice::from_ref(&set))
            .unwrap_or_else(|faults| panic!("{set}\n{faults}"));
    }
}

#[test]
fn the_readme_names_every_built_in_bait() {
    let scenario = read("[line.a]\ndistance = \"9 m\"\n[plan.b]\n", "pond", &[]).expect("small");
    let page = text_of(&folder().join("README.md"));
    let recipes = scenario.recipes.iter().map(|recipe| &recipe.name);
    for name in recipes.chain(scenario.hookbaits.iter().map(|hookbait| &hookbait.name)) {
        assert!(page.contains(&format!("`{name}`")), "{name} is not named");
    }
}
