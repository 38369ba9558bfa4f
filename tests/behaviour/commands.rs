//! The commands on a small scenario: what they print, what they leave and how they end.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;
use tempfile::TempDir;

/// An invented pond; half an hour, so that a test can fish it.
pub(crate) const POND: &str = r#"
title = "An invented pond"
session.length = "30 min"
line.middle.distance = "15 m"
shoal.small.count = { low = 30, high = 50 }
shoal.small.weight = "0.8 kg"
shoal.small.home = "middle"
plan.often.recast = "90 s"
plan.seldom.recast = "7 min"
"#;

/// A folder with the pond in it, in which the program is run.
pub(crate) struct Bank {
    folder: TempDir,
}

pub(crate) struct Said {
    pub(crate) code: Option<i32>,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl Bank {
    pub(crate) fn new() -> Self {
        let folder = tempfile::tempdir().expect("a place");
        fs::write(folder.path().join("pond.toml"), POND).expect("a scenario");
        Self { folder }
    }

    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub(crate) fn command(&self, args: &[&str]) -> Command {
        let mut command = Command::new(assert_cmd::cargo::cargo_bin!("shoalwise"));
        command.current_dir(self.folder.path()).args(args);
        command
    }

    pub(crate) fn run(&self, args: &[&str]) -> Said {
        let output = self.command(args).output().expect("the program starts");
        Said {
            code: output.status.code(),
            out: String::from_utf8(output.stdout).expect("text"),
            err: String::from_utf8(output.stderr).expect("text"),
        }
    }

    /// Runs what must end well.
    pub(crate) fn done(&self, args: &[&str]) -> Said {
        let said = self.run(args);
        assert_eq!(said.code, Some(0), "{args:?}: {}", said.err);
        said
    }
}

pub(crate) fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("a folder");
    let mut names: Vec<String> = entries
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

pub(crate) fn json(text: &str) -> Value {
    serde_json::from_str(text).unwrap_or_else(|why| panic!("{why} in {text}"))
}

#[test]
fn compare_prints_an_answer_and_leaves_finished_files() {
    let bank = Bank::new();
    let said = bank.done(&["compare", "pond.toml", "--days", "10"]);
    for word in ["often", "seldom", "kg", "10 days of seed 1, as asked", "output/pond-compare"] {
        assert!(said.out.contains(word), "{word} is missing:\n{}", said.out);
    }
    assert_eq!(
        names(&bank.path("output/pond-compare")),
        [
            "report.html",
            "sessions.csv",
            "stamp.json",
            "summary.json",
            "weight-curve.png",
            "weight-curve.svg"
        ]
    );
    let rows = fs::read_to_string(bank.path("output/pond-compare/sessions.csv")).expect("rows");
    assert_eq!(rows.lines().count(), 1 + 2 * 10, "a header, and a row a plan and day");
    let png = fs::read(bank.path("output/pond-compare/weight-curve.png")).expect("a picture");
    assert!(png.starts_with(b"\x89PNG"));
}

#[test]
fn a_card_is_left_for_phone_and_paper_and_does_not_depend_on_threads() {
    let bank = Bank::new();
    let args = ["card", "pond.toml", "--plan", "often", "--days", "40", "--quiet", "--threads"];
    let said = bank.done(&[&args[..], &["1"]].concat());
    assert!(said.out.contains("output/pond-card: card.html, card.pdf"), "{}", said.out);
    let folder = bank.path("output/pond-card");
    let all = ["card.html", "card.pdf", "card.svg", "stamp.json", "summary.json"];
    assert_eq!(names(&folder), all);
    bank.done(&[&args[..], &["8", "--out", "on-8"]].concat());
    for name in all {
        let (one, eight) = (folder.join(name), bank.path("on-8").join(name));
        assert_eq!(fs::read(one).expect("a file"), fs::read(eight).expect("a file"), "{name}");
    }
    let page = fs::read_to_string(folder.join("card.html")).expect("a page");
    for words in ["often", "every 1\u{a0}min", "middle", "groundbait", "Overhead power lines"] {
        assert!(page.contains(words), "{words:?} is not on the card:\n{page}");
    }
}

#[test]
fn a_card_shows_the_figures_of_a_comparison_of_that_plan() {
    let bank = Bank::new();
    let common = ["pond.toml", "--plan", "often", "--days", "6", "--json", "--quiet"];
    let card = json(&bank.done(&[&["card"], &common[..]].concat()).out);
    let compared = json(&bank.done(&[&["compare"], &common[..]].concat()).out);
    assert_eq!(card["plans"], compared["plans"]);
    let said = bank.run(&["card", "pond.toml", "--plan", "oftn"]);
    assert_eq!((said.code, said.out.as_str()), (Some(2), ""));
    assert!(said.err.contains("Did you mean often?"), "{}", said.err);
}

#[test]
fn json_is_one_document_and_the_summary_the_same_bytes() {
    let bank = Bank::new();
    let said = bank.done(&["compare", "pond.toml", "--days", "6", "--json", "--quiet"]);
    assert_eq!(said.err, "", "quiet is quiet");
    let summary = fs::read_to_string(bank.path("output/pond-compare/summary.json")).expect("there");
    assert_eq!(said.out, summary);
    let found = json(&said.out);
    assert_eq!(found["format"], "shoalwise/compare/1");
    assert_eq!(
        (found["days"].as_u64(), found["stopped_because"].as_str()),
        (Some(6), Some("asked"))
    );
    for field in ["version", "commit", "seed", "scenario", "scenario_sha256", "target"] {
        assert!(!found["stamp"][field].is_null(), "the stamp lacks {field}");
    }
    for plan in found["plans"].as_array().expect("plans") {
        let last = plan["curve"].as_array().and_then(|curve| curve.last()).expect("a curve");
        assert_eq!(last["mean_kg"], plan["weight_kg"]["mean"]);
    }
    // The stamp's hash is that of what was read.
    let set = ["compare", "pond.toml", "--days", "6", "--json", "--quiet", "--set"];
    let other = json(&bank.done(&[&set[..], &["shoal.small.count=20"]].concat()).out);
    assert_ne!(found["stamp"]["scenario_sha256"], other["stamp"]["scenario_sha256"]);
}

#[test]
fn without_days_it_stops_when_the_verdict_is_clear_and_says_so() {
    let bank = Bank::new();
    let args = ["compare", "pond.toml", "--quiet", "--set", "plan.seldom.recast=25 min"];
    let said = bank.done(&args);
    for words in ["200 days of seed 1: the verdict is clear.", "same day", "two days", "what for"] {
        assert!(said.out.contains(words), "{words} is missing:\n{}", said.out);
    }
    bank.done(&args);
    assert_eq!(names(&bank.path("output")), ["pond-compare"], "it takes its folder again");
    let summary = fs::read_to_string(bank.path("output/pond-compare/summary.json")).expect("there");
    let found = json(&summary);
    assert_eq!(found["stopped_because"], "clear");
    assert_eq!(found["pairs"][0]["verdict"], "ahead");
    assert!(found["pairs"][0]["beats"]["on_average"]["share"].as_f64().is_some(), "{summary}");
}

#[test]
fn threads_do_not_change_a_byte() {
    let bank = Bank::new();
    let run = |threads: &str, out: &str| {
        let args = ["compare", "pond.toml", "--days", "40", "--quiet"];
        let said = bank.done(&[&args[..], &["--threads", threads, "--out", out]].concat());
        said.out.replace(out, "")
    };
    assert_eq!(run("1", "on-1"), run("8", "on-8"));
    for name in names(&bank.path("on-1")) {
        let (one, eight) = (bank.path("on-1").join(&name), bank.path("on-8").join(&name));
        assert_eq!(fs::read(one).expect("a file"), fs::read(eight).expect("a file"), "{name}");
    }
}

#[test]
fn results_of_other_runs_are_kept() {
    let bank = Bank::new();
    let quick = ["compare", "pond.toml", "--days", "4", "--quiet"];
    bank.done(&quick);
    bank.done(&quick);
    assert_eq!(
        names(&bank.path("output")),
        ["pond-compare"],
        "the same run takes its folder again"
    );
    bank.done(&[&quick[..], &["--seed", "2"]].concat());
    bank.done(&[&quick[..], &["--plan", "often"]].concat());
    assert_eq!(names(&bank.path("output")), ["pond-compare", "pond-compare-2", "pond-compare-3"]);
    // A folder that was named is refused, before anything is fished.
    let stamp = fs::read(bank.path("output/pond-compare/stamp.json")).expect("a stamp");
    let said = bank.run(&[&quick[..], &["--seed", "5", "--out", "output/pond-compare"]].concat());
    assert_eq!(said.code, Some(2), "{}", said.err);
    assert!(said.err.contains("--out") && said.err.contains("seed 1, not 5"), "{}", said.err);
    assert_eq!(fs::read(bank.path("output/pond-compare/stamp.json")).expect("a stamp"), stamp);
}

#[test]
fn a_disk_that_takes_nothing_is_a_failure_and_not_wrong_input() {
    let bank = Bank::new();
    fs::write(bank.path("file"), "in the way").expect("a file");
    let said = bank.run(&["compare", "pond.toml", "--days", "2", "--quiet", "--out", "file/below"]);
    assert_eq!(said.code, Some(1), "{}", said.err);
    assert!(said.err.contains("file/below"), "{}", said.err);
}

#[test]
fn only_the_plans_named_are_fished_and_a_wrong_name_is_met_with_the_nearest() {
    let bank = Bank::new();
    let args = ["compare", "pond.toml", "--days", "2", "--quiet", "--json", "--plan"];
    let found = json(&bank.done(&[&args[..], &["seldom"]].concat()).out);
    let plans = found["plans"].as_array().expect("plans");
    assert_eq!((plans.len(), plans[0]["name"].as_str()), (1, Some("seldom")));
    for command in [&args[..], &["replay", "pond.toml", "--day", "1", "--plan"]] {
        let said = bank.run(&[command, &["seldon"]].concat());
        assert_eq!((said.code, said.out.as_str()), (Some(2), ""));
        for word in ["\"seldon\"", "Did you mean seldom?", "often, seldom"] {
            assert!(said.err.contains(word), "{word} is missing: {}", said.err);
        }
    }
    let said = bank.run(&[&args[..], &["zander-at-night"]].concat());
    assert!(!said.err.contains("Did you mean"), "nothing is near: {}", said.err);
}

#[test]
fn units_are_the_scenarios_unless_asked_for() {
    let bank = Bank::new();
    let args = ["compare", "pond.toml", "--days", "3", "--quiet"];
    let metric = bank.done(&args).out;
    let imperial = bank.done(&[&args[..], &["--units", "imperial"]].concat()).out;
    assert!(metric.contains(" kg") && !metric.contains(" lb"), "{metric}");
    assert!(imperial.contains(" lb") || imperial.contains(" oz"), "{imperial}");
    assert!(!imperial.contains(" kg"), "{imperial}");
}

#[test]
fn a_value_is_varied_for_every_plan_on_the_same_days() {
    let bank = Bank::new();
    let args = ["compare", "pond.toml", "--days", "5", "--quiet", "--vary"];
    let said = bank.done(&[&args[..], &["plan.often.recast=60 s, 2 min, 4 min"]].concat());
    for word in ["60 s", "2 min", "4 min", "often", "output/pond-compare"] {
        assert!(said.out.contains(word), "{word} is missing:\n{}", said.out);
    }
    let folder = bank.path("output/pond-compare");
    for name in ["vary.csv", "vary.json", "stamp.json", "vary-often.svg", "vary-often.png"] {
        assert!(folder.join(name).exists(), "{name} is missing: {:?}", names(&folder));
    }
    let found = json(&fs::read_to_string(folder.join("vary.json")).expect("there"));
    assert_eq!(found["format"], "shoalwise/vary/1");
    let settings = found["settings"].as_array().expect("settings");
    assert_eq!(settings.len(), 3);
    // The plan that nothing was changed for is the same at each value: the days are the same.
    assert_eq!(settings[0]["plans"][1], settings[2]["plans"][1]);
    // Another list of values is another run.
    bank.done(&[&args[..], &["plan.often.recast=60 s, 2 min"]].concat());
    assert!(bank.path("output/pond-compare-2").exists());
}

#[test]
fn doubt_says_what_could_flip_the_verdict_and_what_it_cost() {
    let bank = Bank::new();
    let args = ["compare", "pond.toml", "--doubt", "--days", "8"];
    let said = bank.done(&args);
    for word in ["a session", "what is not known", "luck within a day", "output/pond-doubt"] {
        assert!(said.out.contains(word), "{word} is missing:\n{}", said.out);
    }
    assert!(said.err.contains("unknowns to vary") && said.err.contains("sessions"), "{}", said.err);
    assert_eq!(
        names(&bank.path("output/pond-doubt")),
        ["doubt.json", "doubt.png", "doubt.svg", "stamp.json"]
    );
    let json_args = [&args[..], &["--json", "--quiet"]].concat();
    let one = bank.done(&[&json_args[..], &["--threads", "1"]].concat());
    let found = json(&one.out);
    assert_eq!(one.out, bank.done(&[&json_args[..], &["--threads", "4"]].concat()).out);
    assert_eq!(found["format"], "shoalwise/doubt/1");
    assert_eq!(found["stamp"]["seed"], 1);
    let few = found["few"].as_array().expect("few");
    assert_eq!((few.len(), few[0]["line"].as_array().expect("a line").len()), (6, 9));
    let sum: f64 = ["luck", "days", "unknowns", "days_with_unknowns"]
        .iter()
        .map(|part| found["variance"]["difference"][part]["share"].as_f64().expect("a share"))
        .sum();
    assert!((sum - 1.0).abs() < 1e-9, "{sum}");
    // Results of another kind in the folder are not replaced, and one plan has no verdict.
    let said = bank.run(&["compare", "pond.toml", "--days", "8", "--out", "output/pond-doubt"]);
    assert_eq!(said.code, Some(2), "{}", said.err);
    for wrong in [&["--plan", "often"][..], &["--fixed-days"]] {
        let said = bank.run(&[&args[..], wrong].concat());
        assert_eq!((said.code, said.out.as_str()), (Some(2), ""), "{}", said.err);
    }
}

#[test]
fn fixed_days_leave_luck_and_say_so() {
    let bank = Bank::new();
    let said = bank.done(&["compare", "pond.toml", "--days", "6", "--quiet", "--fixed-days"]);
    assert!(said.out.contains("All days are the same"), "{}", said.out);
    let rows = fs::read_to_string(bank.path("output/pond-compare/sessions.csv")).expect("rows");
    let weights: Vec<&str> = rows.lines().filter(|row| row.starts_with("often,")).collect();
    assert!(weights.windows(2).any(|two| two[0][8..] != two[1][8..]), "luck differs: {rows}");
    let replayed = bank.done(&[
        "replay",
        "pond.toml",
        "--plan",
        "often",
        "--day",
        "6",
        "--json",
        "--fixed-days",
    ]);
    let outcome = &json(replayed.out.lines().last().expect("an outcome"))["outcome"];
    let starts =
        format!("often,6,{},{},{},", outcome["weight_g"], outcome["fish"], outcome["bites"]);
    assert!(rows.lines().any(|row| row.starts_with(&starts)), "no row {starts} in\n{rows}");
}

#[test]
fn several_keys_are_varied_in_every_combination() {
    let bank = Bank::new();
    let args = ["compare", "pond.toml", "--days", "2", "--quiet", "--json", "--plan", "often"];
    let vary = ["--vary", "plan.often.recast=1 min,2 min", "--vary", "shoal.small.count=20..40/3"];
    let found = json(&bank.done(&[&args[..], &vary].concat()).out);
    let settings = found["settings"].as_array().expect("settings");
    let values: Vec<&Value> = settings.iter().map(|setting| &setting["values"]).collect();
    assert_eq!(values.len(), 6);
    assert_eq!(*values[0], serde_json::json!(["1 min", "20"]));
    assert_eq!(*values[1], serde_json::json!(["1 min", "30"]), "the last key goes first");
    assert_eq!(*values[5], serde_json::json!(["2 min", "40"]));
}

#[test]
fn a_wrong_value_to_vary_is_wrong_input() {
    let bank = Bank::new();
    for vary in ["plan.often.recast", "plan.often.recats=1 min", "plan.often.recast=1 min,2 kg"] {
        let said = bank.run(&["compare", "pond.toml", "--quiet", "--vary", vary]);
        assert_eq!((said.code, said.out.as_str()), (Some(2), ""), "{vary}: {}", said.err);
        assert!(said.err.starts_with("shoalwise: "), "{}", said.err);
    }
    assert!(!bank.path("output").exists(), "nothing is written");
}

#[test]
fn check_says_that_a_scenario_is_sound_or_all_that_is_wrong() {
    let bank = Bank::new();
    let said = bank.done(&["check", "pond.toml"]);
    assert_eq!(said.out, "scenario is sound: 1 line, 1 shoal, 2 plans, 0.5 h\n");
    let wrong =
        POND.replace("\"0.8 kg\"", "\"0.8 min\"").replace("recast = \"90 s\"", "recats = 3");
    fs::write(bank.path("wrong.toml"), wrong).expect("a scenario");
    for command in ["check", "compare"] {
        let said = bank.run(&[command, "wrong.toml"]);
        assert_eq!((said.code, said.out.as_str()), (Some(2), ""));
        for word in ["shoal.small.weight", "recats", "recast"] {
            assert!(said.err.contains(word), "{command}: {word} is missing: {}", said.err);
        }
    }
    assert!(!bank.path("output").exists(), "nothing is written");
}

#[test]
fn replay_tells_one_session_in_words_and_as_json() {
    let bank = Bank::new();
    let args = ["replay", "pond.toml", "--plan", "often", "--day", "3"];
    let words = bank.done(&args).out;
    assert!(words.starts_with("0:00:00  "), "{words}");
    assert!(words.contains(" to middle"), "{words}");
    let last = words.lines().last().expect("a line");
    assert!(last.starts_with("0:30:00  ") && last.contains("casts"), "{last}");

    let said = bank.done(&[&args[..], &["--json"]].concat());
    let lines: Vec<Value> = said.out.lines().map(json).collect();
    let (outcome, events) = lines.split_last().expect("an outcome");
    let times: Vec<f64> =
        events.iter().map(|event| event["t_s"].as_f64().expect("a time")).collect();
    assert!(times.windows(2).all(|pair| pair[0] <= pair[1]), "time runs on");
    let count = |kind: &str| events.iter().filter(|event| event["event"] == kind).count() as u64;
    let outcome = &outcome["outcome"];
    assert_eq!(Some(count("rig-is-cast")), outcome["casts"].as_u64());
    assert_eq!(Some(count("fish-takes")), outcome["bites"].as_u64());
    assert!(count("fish-arrives") > 0, "no fish came on this day");
}

#[test]
fn replay_fishes_the_session_that_compare_counts() {
    let bank = Bank::new();
    bank.done(&["compare", "pond.toml", "--days", "5", "--quiet"]);
    let rows = fs::read_to_string(bank.path("output/pond-compare/sessions.csv")).expect("rows");
    let said = bank.done(&["replay", "pond.toml", "--plan", "seldom", "--day", "5", "--json"]);
    let replayed = json(said.out.lines().last().expect("an outcome"));
    let outcome = &replayed["outcome"];
    let starts =
        format!("seldom,5,{},{},{},", outcome["weight_g"], outcome["fish"], outcome["bites"]);
    assert!(rows.lines().any(|row| row.starts_with(&starts)), "no row {starts} in\n{rows}");
}

/// A run that takes hours unless it is stopped.
#[cfg(unix)]
fn start_long_run(bank: &Bank, more: &[&str]) -> std::process::Child {
    use std::process::Stdio;
    let args = ["compare", "pond.toml", "--days", "1000000", "--quiet", "--out", "long"];
    bank.command(&[&args[..], more].concat())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts")
}

/// Waits until a condition holds, a minute at most.
#[cfg(unix)]
pub(crate) fn wait_until(what: &str, holds: impl Fn() -> bool) {
    for _ in 0..6000 {
        if holds() {
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    panic!("waited in vain until {what}");
}

#[cfg(unix)]
pub(crate) fn ask_to_stop(child: std::process::Child, signal: &str) -> Said {
    let sent = Command::new("kill").args([signal, &child.id().to_string()]).status();
    assert!(sent.expect("kill starts").success());
    let output = child.wait_with_output().expect("it ends");
    Said {
        code: output.status.code(),
        out: String::from_utf8(output.stdout).expect("text"),
        err: String::from_utf8(output.stderr).expect("text"),
    }
}

#[cfg(unix)]
#[test]
fn interrupted_a_comparison_keeps_the_days_done() {
    for (signal, code) in [("-INT", 130), ("-TERM", 143)] {
        let bank = Bank::new();
        let child = start_long_run(&bank, &[]);
        // The folder is there once the first days are done.
        wait_until("the first days are done", || bank.path("long").exists());
        let said = ask_to_stop(child, signal);
        assert_eq!((said.code, said.out.as_str()), (Some(code), ""), "{signal}: {}", said.err);
        assert!(said.err.contains("interrupted after"), "{}", said.err);
        assert_eq!(names(&bank.path("long")), ["sessions.csv", "stamp.json"], "{}", said.err);
        let stamp = fs::read_to_string(bank.path("long/stamp.json")).expect("a stamp");
        let days = json(&stamp)["days"].as_u64().expect("days") as usize;
        assert!(said.err.contains(&format!("after {days} of 1000000 days")), "{}", said.err);
        let rows = fs::read_to_string(bank.path("long/sessions.csv")).expect("rows");
        assert_eq!(rows.lines().count(), 1 + 2 * days, "whole days, whole rows");
    }
}

#[cfg(unix)]
#[test]
fn interrupted_a_comparison_leaves_earlier_results_as_they_were() {
    let bank = Bank::new();
    bank.done(&["compare", "pond.toml", "--days", "3", "--quiet", "--out", "long"]);
    let before = names(&bank.path("long"));
    let rows = fs::read(bank.path("long/sessions.csv")).expect("rows");
    let child = start_long_run(&bank, &[]);
    wait_until("the first days are done", || names(&bank.path("long")).len() > before.len());
    let said = ask_to_stop(child, "-INT");
    assert_eq!(said.code, Some(130), "{}", said.err);
    assert!(said.err.contains("as they were"), "{}", said.err);
    assert_eq!(names(&bank.path("long")), before);
    assert_eq!(fs::read(bank.path("long/sessions.csv")).expect("rows"), rows);
}
