//! README and guide show the real output of the program.
//!
//! These tests run only in release builds, where the sessions take seconds. The README gives that command for the
//! tests.
#![cfg(not(debug_assertions))]

use std::fs;
use std::path::Path;
use std::process::Command;

const README: &str = "README.md";
const GUIDE: &str = "scenarios/GUIDE.md";
const DEMO: &str = "scenarios/tern-bar.toml";
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
fn check_committed(path: &Path, made: &str) {
    let is_kept = || fs::read_to_string(path).is_ok_and(|kept| kept == made);
    // Other tests read the documents at the same time: a text that is up to date is not written again.
    if std::env::var_os("SHOALWISE_BLESS").is_some() && !is_kept() {
        fs::write(path, made).expect("written");
    }
    assert!(
        is_kept(),
        "{} is stale: run the tests once with SHOALWISE_BLESS=1, and read what README and guide say of it",
        path.display()
    );
}

fn picture(folder: &tempfile::TempDir, name: &str, committed: &str) {
    let made = fs::read_to_string(folder.path().join("out").join(name)).expect("a picture");
    check_committed(&Path::new("scenarios/pictures").join(committed), &made);
}

#[test]
fn no_text_in_a_committed_picture_is_cut() {
    for file in fs::read_dir("scenarios/pictures").expect("a folder") {
        let path = file.expect("a file").path();
        if path.extension().is_some_and(|end| end == "svg") {
            let picture = text_of(&path.to_string_lossy());
            let cut: Vec<&str> = picture.lines().filter(|line| line.contains('…')).collect();
            assert!(cut.is_empty(), "{}: {cut:?}", path.display());
        }
    }
}

/// Text of a document.
fn text_of(path: &str) -> String {
    fs::read_to_string(path).unwrap_or_else(|why| panic!("{path}: {why}"))
}

/// Checks that the block between the two marks of a document is exactly the output given.
fn block_holds(path: &str, output: &str) {
    block_between(path, (OPENS, CLOSES), output);
}

/// The same for the block between two other marks.
fn block_between(path: &str, (opens, closes): (&str, &str), output: &str) {
    let document = text_of(path);
    let (before, rest) =
        document.split_once(opens).unwrap_or_else(|| panic!("{path} has no {opens}"));
    let (_, after) =
        rest.split_once(closes).unwrap_or_else(|| panic!("{path}: no end of the table"));
    check_committed(Path::new(path), &format!("{before}{opens}{output}{closes}{after}"));
}

/// The first paragraphs of a text, ending in one line break.
fn first_paragraphs(text: &str, count: usize) -> String {
    let paragraphs: Vec<&str> = text.split("\n\n").take(count).collect();
    format!("{}\n", paragraphs.join("\n\n").trim_end_matches('\n'))
}

/// The README shows the table and the verdict, the first two paragraphs; the guide shows all of the output.
#[test]
fn readme_and_guide_show_the_output_and_chart_of_their_command() {
    let (printed, folder) = run(&["compare", DEMO]);
    let printed = printed.split("\nFiles in ").next().expect("text before the files");
    let beginning = first_paragraphs(printed, 2);
    assert!(
        printed.starts_with(&beginning) && beginning.contains("the verdict is clear"),
        "{beginning}"
    );
    block_holds(README, &beginning);
    block_holds(GUIDE, printed);
    picture(&folder, "weight-curve.svg", "weight-curve.svg");
}

#[test]
fn the_guide_shows_two_waters_compared() {
    let waters = ["scenarios/quern-pool-summer.toml", "scenarios/quern-pool-winter.toml"];
    let plans = ["--plan", "feeder-four-minutes", "--plan", "lead-and-few-pellets"];
    assert!(text_of(GUIDE).contains(&format!(
        "compare {} \\\n    {}",
        waters.join(" "),
        plans.join(" ")
    )));
    let (printed, _) = run(&[&["compare"], &waters[..], &plans[..]].concat());
    let printed = printed.split("\nFiles in ").next().expect("text before the files");
    let marks = ("<!-- waters -->\n```text\n", "```\n<!-- /waters -->");
    block_between(GUIDE, marks, &first_paragraphs(printed, 3));
}

#[test]
fn the_guide_shows_the_card_of_its_command() {
    assert!(
        text_of(GUIDE).contains("card scenarios/tern-bar.toml --plan bar-five-minutes"),
        "the guide gives its command"
    );
    let (_, folder) = run(&["card", DEMO, "--plan", "bar-five-minutes"]);
    picture(&folder, "card.svg", "card.svg");
}

#[test]
fn the_guide_shows_the_charts_of_varying_one_setting() {
    for (vary, committed) in [
        ("plan.bar-five-minutes.recast=30 s..20 min/9 log", "recast.svg"),
        ("plan.bar-five-minutes.load=8 g..120 g/9 log", "load.svg"),
    ] {
        let is_given = text_of(GUIDE).contains(vary);
        assert!(is_given, "the guide gives the command that made {committed}");
        let (_, folder) = run(&["compare", DEMO, "--plan", "bar-five-minutes", "--vary", vary]);
        picture(&folder, "vary-bar-five-minutes.svg", committed);
    }
}

#[test]
fn the_guide_shows_the_map_of_its_sweep() {
    let load = "plan.bar-five-minutes.load=8 g..120 g/6 log";
    let recast = "plan.bar-five-minutes.recast=30 s..20 min/8 log";
    let command = format!(
        "shoalwise sweep {DEMO} --plan bar-five-minutes --days 40 \\\n    --vary \"{load}\" --vary \"{recast}\"\n"
    );
    assert!(
        text_of(GUIDE).contains(&command),
        "the guide gives the command that made the map: {command}"
    );
    let args = [
        "sweep",
        DEMO,
        "--plan",
        "bar-five-minutes",
        "--days",
        "40",
        "--vary",
        load,
        "--vary",
        recast,
    ];
    let (_, folder) = run(&args);
    picture(&folder, "vary-bar-five-minutes.svg", "load-and-recast.svg");
}

/// The guide says how many sessions `--doubt` takes on the demo, to a thousand.
#[test]
fn the_guide_says_how_many_sessions_doubt_takes() {
    let demo = sim::scenario::load(Path::new(DEMO), &[]).expect("the demo is sound");
    let days = 400;
    let analysis = sim::study::Effort::for_days(days).sessions(&demo);
    let sessions = analysis + u64::from(days) * demo.plans.len() as u64;
    let thousands = (sessions + 500) / 1000;
    let sentence = format!("The demo takes about {thousands},000 sessions;");
    assert!(text_of(GUIDE).contains(&sentence), "{sentence}");
}

/// The guide explains three columns by one row of its table: its answers are the shares of that row.
#[test]
fn the_three_meanings_in_the_guide_have_the_shares_of_its_table() {
    let guide = text_of(GUIDE);
    let shares = |line: &str| -> Vec<String> {
        let words: Vec<&str> = line.split_whitespace().collect();
        let shares = words.windows(2).filter(|pair| pair[1] == "%");
        shares.map(|pair| pair[0].to_owned()).collect()
    };
    let row = guide
        .lines()
        .find(|line| line.starts_with("bar-five-minutes") && line.contains("×"))
        .expect("the second table compares with bar-five-minutes");
    let listed: Vec<String> = ["same day", "different days", "on average"]
        .iter()
        .flat_map(|column| {
            let start = format!("| {column} |");
            shares(guide.lines().find(|line| line.starts_with(&start)).expect("a row a column"))
        })
        .collect();
    assert_eq!(listed, shares(row), "{row}");
}
