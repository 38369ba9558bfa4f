//! The command line without a scenario: usage, help, version, parameters.

use super::program::{ProgramOutput, program};

/// What the program prints when run with these arguments.
fn run(args: &[&str]) -> ProgramOutput {
    program().args(args).output().expect("the program starts").into()
}

#[test]
fn wrong_usage_exits_with_2_and_says_what_is_right() {
    for (args, message) in [
        (&["compare"][..], "SCENARIO"),
        (&["compair", "x.toml"], "compare"),
        (&["compare", "x.toml", "--days", "1"], "at least 2"),
        (&["compare", "x.toml", "--days", "-3"], "whole number"),
        (&["compare", "x.toml", "--days", "many"], "whole number"),
        (&["compare", "x.toml", "--threads", "0"], "1 to 1024"),
        (&["compare", "x.toml", "--seed", "-1"], "--seed <N>': give a whole number"),
        (&["compare", "x.toml", "--units", "stone"], "imperial"),
        (&["compare", "x.toml", "--dais", "3"], "--days"),
        (&["replay", "x.toml", "--plan", "a", "--day", "0"], "counted from 1"),
        (&["replay", "x.toml", "--plan", "a"], "--day"),
        (&["sweep", "x.toml"], "--vary"),
        (&["sweep", "x.toml", "--vary", "a=1", "--part", "4/3"], "K from 1 to N"),
        (&["sweep", "x.toml", "--vary", "a=1", "--design", "latin"], "--points"),
        (&["sweep", "x.toml", "--vary", "a=1", "--points", "0"], "give 1 to"),
        (&["merge"], "SHARE"),
        (&["params", "--json", "--markdown"], "--markdown"),
    ] {
        let output = run(args);
        assert_eq!(output.code, Some(2), "{args:?}: {}", output.err);
        assert!(output.err.starts_with("shoalwise: "), "{args:?}: {}", output.err);
        assert!(output.err.contains(message), "{args:?} should say {message}: {}", output.err);
        assert_eq!(output.out, "", "{args:?}");
    }
}

#[test]
fn no_arguments_is_wrong_usage_and_prints_help() {
    let output = run(&[]);
    assert_eq!(output.code, Some(2));
    assert!(output.err.contains("compare") && output.out.is_empty(), "{}", output.err);
}

#[test]
fn help_lists_the_existing_commands() {
    let output = run(&["--help"]);
    assert_eq!((output.code, output.err.as_str()), (Some(0), ""));
    for command in [
        "compare",
        "best",
        "sweep",
        "merge",
        "check",
        "replay",
        "card",
        "learn",
        "log",
        "now",
        "page",
        "params",
        "new",
        "schema",
        "completions",
        "man",
    ] {
        assert!(output.out.contains(command), "{command} is missing:\n{}", output.out);
    }
}

#[test]
fn the_version_is_on_standard_output() {
    let output = run(&["--version"]);
    assert_eq!((output.code, output.err.as_str()), (Some(0), ""));
    assert!(
        output.out.starts_with(concat!("shoalwise ", env!("CARGO_PKG_VERSION"))),
        "{}",
        output.out
    );
}

#[test]
fn parameters_are_printed_in_three_formats() {
    let json = run(&["params", "--json"]);
    let document: serde_json::Value = serde_json::from_str(&json.out).expect("JSON and no more");
    assert_eq!(document["format"], "shoalwise/params/1");
    let rows = document["parameters"].as_array().expect("a list");
    let markdown = run(&["params", "--markdown"]).out;
    assert!(markdown.starts_with("# Parameters"), "{markdown}");
    let table = run(&["params"]).out;
    for row in rows {
        let key = row["key"].as_str().expect("a key");
        assert!(table.contains(key), "the table lacks {key}");
        let sources = row["source"].as_str().expect("a source, if an empty one");
        for source in sources.split_whitespace() {
            assert!(document["sources"].get(source).is_some(), "{key}: no source {source}");
        }
    }
    assert!(rows.len() > 50, "{} rows", rows.len());
}

#[test]
fn a_closed_output_pipe_is_no_error() {
    use std::process::Stdio;
    let mut child = program()
        .arg("params")
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("it ends");
    let err = String::from_utf8_lossy(&output.stderr);
    assert_eq!((output.status.code(), err.as_ref()), (Some(0), ""));
}

#[test]
fn a_missing_scenario_is_wrong_input() {
    for args in [
        &["check", "no-such-water.toml"][..],
        &["compare", "no-such-water.toml"],
        &["replay", "no-such-water.toml", "--plan", "a", "--day", "1"],
    ] {
        let output = run(args);
        assert_eq!(output.code, Some(2), "{args:?}: {}", output.err);
        assert!(output.err.starts_with("no-such-water.toml: "), "{args:?}: {}", output.err);
        assert_eq!(output.out, "", "{args:?}");
    }
}
