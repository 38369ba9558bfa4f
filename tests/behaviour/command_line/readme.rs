//! The README shows the real output of the program.
//!
//! These tests run only in release builds, where the sessions take seconds. The README gives that command for the
//! tests.
#![cfg(not(debug_assertions))]

use std::fs;
use std::path::Path;
use std::process::Command;

const DEMO: &str = "scenarios/hazel-mere.toml";
const OPENS: &str = "<!-- table -->\n```text\n";
const CLOSES: &str = "```\n<!-- /table -->";

/// Runs the program and returns its output and the folder that it wrote.
fn run(args: &[&str]) -> (String, tempfile::TempDir) {
    let parent = tempfile::tempdir().expect("a temporary folder");
    let out = parent.path().join("out");
    let output = Command::new(env!("CARGO_BIN_EXE_shoalwise"))
        .args(args)
        .arg("--quiet")
        .arg("--out")
        .arg(&out)
        .output()
        .expect("the program runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    (String::from_utf8(output.stdout).expect("UTF-8"), parent)
}

/// Checks a committed file against its generated text, or writes it where `SHOALWISE_BLESS` is set.
fn holds(path: &Path, made: &str) {
    if std::env::var_os("SHOALWISE_BLESS").is_some() {
        fs::write(path, made).expect("written");
    }
    let kept = fs::read_to_string(path).unwrap_or_default();
    assert!(
        kept == made,
        "{} is stale: run the tests once with SHOALWISE_BLESS=1, and read what the README says of it",
        path.display()
    );
}

fn picture(folder: &tempfile::TempDir, name: &str, committed: &str) {
    let made = fs::read_to_string(folder.path().join("out").join(name)).expect("a picture");
    holds(&Path::new("scenarios/pictures").join(committed), &made);
}

#[test]
fn the_readme_shows_the_output_and_chart_of_its_command() {
    let (printed, folder) = run(&["compare", DEMO]);
    let printed = printed.split("\nFiles in ").next().expect("text before the files");
    let readme = fs::read_to_string("README.md").expect("a README");
    let (before, rest) = readme.split_once(OPENS).expect("the README has its table");
    let (_, after) = rest.split_once(CLOSES).expect("the table ends");
    holds(Path::new("README.md"), &format!("{before}{OPENS}{printed}{CLOSES}{after}"));
    picture(&folder, "weight-curve.svg", "weight-curve.svg");
}

#[test]
fn the_readme_shows_the_card_of_its_command() {
    let readme = fs::read_to_string("README.md").expect("a README");
    assert!(
        readme.contains("card scenarios/hazel-mere.toml --plan two-minutes"),
        "the README gives its command"
    );
    let (_, folder) = run(&["card", DEMO, "--plan", "two-minutes"]);
    picture(&folder, "card.svg", "card.svg");
}

#[test]
fn the_readme_shows_the_charts_of_varying_one_setting() {
    for (vary, committed) in [
        ("plan.two-minutes.recast=30 s..20 min/9 log", "recast.svg"),
        ("plan.two-minutes.load=8 g..120 g/9 log", "load.svg"),
    ] {
        let readme = fs::read_to_string("README.md").expect("a README");
        assert!(readme.contains(vary), "the README names the command that made {committed}");
        let (_, folder) = run(&["compare", DEMO, "--plan", "two-minutes", "--vary", vary]);
        picture(&folder, "vary-two-minutes.svg", committed);
    }
}

#[test]
fn the_readme_shows_the_map_of_its_sweep() {
    let load = "plan.two-minutes.load=8 g..120 g/6 log";
    let recast = "plan.two-minutes.recast=30 s..20 min/8 log";
    let readme = fs::read_to_string("README.md").expect("a README");
    let command = format!(
        "shoalwise sweep {DEMO} --plan two-minutes --days 40 \\\n    --vary \"{load}\" --vary \"{recast}\"\n"
    );
    assert!(readme.contains(&command), "the README gives the command that made the map: {command}");
    let asked =
        ["sweep", DEMO, "--plan", "two-minutes", "--days", "40", "--vary", load, "--vary", recast];
    let (_, folder) = run(&asked);
    picture(&folder, "vary-two-minutes.svg", "load-and-recast.svg");
}
