//! The commands on a small scenario: output, files and exit codes.

use std::fs;

use serde_json::Value;

use super::program::{POND, ProgramFolder, json, names};
#[cfg(unix)]
use super::program::{send_signal, wait_until};

#[test]
fn compare_prints_a_verdict_and_writes_complete_files() {
    let bank = ProgramFolder::new();
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
fn a_card_is_written_for_phone_and_paper_and_does_not_depend_on_threads() {
    let bank = ProgramFolder::new();
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
fn a_card_shows_the_same_figures_as_compare() {
    let bank = ProgramFolder::new();
    let common = ["pond.toml", "--plan", "often", "--days", "6", "--json", "--quiet"];
    let card = json(&bank.done(&[&["card"], &common[..]].concat()).out);
    let compared = json(&bank.done(&[&["compare"], &common[..]].concat()).out);
    assert_eq!(card["plans"], compared["plans"]);
    let said = bank.run(&["card", "pond.toml", "--plan", "oftn"]);
    assert_eq!((said.code, said.out.as_str()), (Some(2), ""));
    assert!(said.err.contains("Did you mean often?"), "{}", said.err);
}

#[test]
fn json_output_is_one_document_with_the_same_bytes_as_the_summary() {
    let bank = ProgramFolder::new();
    let said = bank.done(&["compare", "pond.toml", "--days", "6", "--json", "--quiet"]);
    assert_eq!(said.err, "", "--quiet prints nothing");
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
    // The hash in the stamp is that of the text as read.
    let set = ["compare", "pond.toml", "--days", "6", "--json", "--quiet", "--set"];
    let other = json(&bank.done(&[&set[..], &["shoal.small.count=20"]].concat()).out);
    assert_ne!(found["stamp"]["scenario_sha256"], other["stamp"]["scenario_sha256"]);
}

#[test]
fn without_days_compare_stops_when_the_verdict_is_clear_and_says_so() {
    let bank = ProgramFolder::new();
    let args = ["compare", "pond.toml", "--quiet", "--set", "plan.seldom.recast=25 min"];
    let said = bank.done(&args);
    for words in ["200 days of seed 1: the verdict is clear.", "same day", "different days", "aim"]
    {
        assert!(said.out.contains(words), "{words} is missing:\n{}", said.out);
    }
    bank.done(&args);
    assert_eq!(names(&bank.path("output")), ["pond-compare"], "the run reuses its folder");
    let summary = fs::read_to_string(bank.path("output/pond-compare/summary.json")).expect("there");
    let found = json(&summary);
    assert_eq!(found["stopped_because"], "clear");
    assert_eq!(found["pairs"][0]["verdict"], "ahead");
    assert!(found["pairs"][0]["beats"]["on_average"]["share"].as_f64().is_some(), "{summary}");
}

#[test]
fn threads_do_not_change_a_byte() {
    let bank = ProgramFolder::new();
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
fn results_of_other_runs_are_never_replaced() {
    let bank = ProgramFolder::new();
    let quick = ["compare", "pond.toml", "--days", "4", "--quiet"];
    bank.done(&quick);
    bank.done(&quick);
    assert_eq!(names(&bank.path("output")), ["pond-compare"], "the same run reuses its folder");
    bank.done(&[&quick[..], &["--seed", "2"]].concat());
    bank.done(&[&quick[..], &["--plan", "often"]].concat());
    assert_eq!(names(&bank.path("output")), ["pond-compare", "pond-compare-2", "pond-compare-3"]);
    // A folder given by name is refused before anything is fished.
    let stamp = fs::read(bank.path("output/pond-compare/stamp.json")).expect("a stamp");
    let said = bank.run(&[&quick[..], &["--seed", "5", "--out", "output/pond-compare"]].concat());
    assert_eq!(said.code, Some(2), "{}", said.err);
    assert!(said.err.contains("--out") && said.err.contains("seed 1, not 5"), "{}", said.err);
    assert_eq!(fs::read(bank.path("output/pond-compare/stamp.json")).expect("a stamp"), stamp);
}

#[test]
fn a_folder_that_cannot_be_written_is_a_failure_and_not_wrong_input() {
    let bank = ProgramFolder::new();
    fs::write(bank.path("file"), "in the way").expect("a file");
    let said = bank.run(&["compare", "pond.toml", "--days", "2", "--quiet", "--out", "file/below"]);
    assert_eq!(said.code, Some(1), "{}", said.err);
    assert!(said.err.contains("file/below"), "{}", said.err);
}

#[test]
fn only_the_named_plans_are_fished_and_a_wrong_name_gets_the_nearest_suggested() {
    let bank = ProgramFolder::new();
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
    assert!(!said.err.contains("Did you mean"), "no name is near: {}", said.err);
}

#[test]
fn units_are_those_of_the_scenario_unless_an_option_sets_them() {
    let bank = ProgramFolder::new();
    let args = ["compare", "pond.toml", "--days", "3", "--quiet"];
    let metric = bank.done(&args).out;
    let imperial = bank.done(&[&args[..], &["--units", "imperial"]].concat()).out;
    assert!(metric.contains("\u{a0}kg") && !metric.contains("\u{a0}lb"), "{metric}");
    assert!(imperial.contains("\u{a0}lb") || imperial.contains("\u{a0}oz"), "{imperial}");
    assert!(!imperial.contains("\u{a0}kg"), "{imperial}");
}

#[test]
fn a_value_is_varied_for_every_plan_on_the_same_days() {
    let bank = ProgramFolder::new();
    let args = ["compare", "pond.toml", "--days", "5", "--quiet", "--vary"];
    let said = bank.done(&[&args[..], &["plan.often.recast=60 s, 2 min, 4 min"]].concat());
    for word in ["1\u{a0}min", "2\u{a0}min", "4\u{a0}min", "often", "output/pond-compare"] {
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
    // The plan that is not varied has the same result at each value, since the days are the same.
    assert_eq!(settings[0]["plans"][1], settings[2]["plans"][1]);
    // Another list of values is another run.
    bank.done(&[&args[..], &["plan.often.recast=60 s, 2 min"]].concat());
    assert!(bank.path("output/pond-compare-2").exists());
}

#[test]
fn the_sensitivity_study_reports_reversals_of_the_verdict_and_its_cost() {
    let bank = ProgramFolder::new();
    let args = ["compare", "pond.toml", "--doubt", "--days", "8"];
    let said = bank.done(&args);
    for word in ["a session", "unknowns", "chance within a day", "output/pond-doubt"] {
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
    // Results of another kind in the folder are not replaced, and a single plan has no verdict.
    let said = bank.run(&["compare", "pond.toml", "--days", "8", "--out", "output/pond-doubt"]);
    assert_eq!(said.code, Some(2), "{}", said.err);
    for wrong in [&["--plan", "often"][..], &["--fixed-days"]] {
        let said = bank.run(&[&args[..], wrong].concat());
        assert_eq!((said.code, said.out.as_str()), (Some(2), ""), "{}", said.err);
    }
}

#[test]
fn fixed_days_leave_replicate_noise_and_say_so() {
    let bank = ProgramFolder::new();
    let said = bank.done(&["compare", "pond.toml", "--days", "6", "--quiet", "--fixed-days"]);
    assert!(said.out.contains("All days are the same"), "{}", said.out);
    let rows = fs::read_to_string(bank.path("output/pond-compare/sessions.csv")).expect("rows");
    let weights: Vec<&str> = rows.lines().filter(|row| row.starts_with("often,")).collect();
    assert!(
        weights.windows(2).any(|two| two[0][8..] != two[1][8..]),
        "the replicate noise differs: {rows}"
    );
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
    let bank = ProgramFolder::new();
    let args = ["compare", "pond.toml", "--days", "2", "--quiet", "--json", "--plan", "often"];
    let vary = ["--vary", "plan.often.recast=1 min,2 min", "--vary", "shoal.small.count=20..40/3"];
    let found = json(&bank.done(&[&args[..], &vary].concat()).out);
    let settings = found["settings"].as_array().expect("settings");
    let values: Vec<&Value> = settings.iter().map(|setting| &setting["values"]).collect();
    assert_eq!(values.len(), 6);
    assert_eq!(*values[0], serde_json::json!(["1 min", "20"]));
    assert_eq!(*values[1], serde_json::json!(["1 min", "30"]), "the last key varies fastest");
    assert_eq!(*values[5], serde_json::json!(["2 min", "40"]));
}

#[test]
fn a_wrong_value_to_vary_is_wrong_input() {
    let bank = ProgramFolder::new();
    for vary in ["plan.often.recast", "plan.often.recats=1 min", "plan.often.recast=1 min,2 kg"] {
        let said = bank.run(&["compare", "pond.toml", "--quiet", "--vary", vary]);
        assert_eq!((said.code, said.out.as_str()), (Some(2), ""), "{vary}: {}", said.err);
        assert!(said.err.starts_with("shoalwise: "), "{}", said.err);
    }
    assert!(!bank.path("output").exists(), "nothing is written");
}

#[test]
fn check_reports_that_a_scenario_is_valid_or_all_errors_in_it() {
    let bank = ProgramFolder::new();
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
fn replay_prints_one_session_as_text_and_as_json() {
    let bank = ProgramFolder::new();
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
    assert!(times.windows(2).all(|pair| pair[0] <= pair[1]), "times are in order");
    let count = |kind: &str| events.iter().filter(|event| event["event"] == kind).count() as u64;
    let outcome = &outcome["outcome"];
    assert_eq!(Some(count("rig-is-cast")), outcome["casts"].as_u64());
    assert_eq!(Some(count("fish-takes")), outcome["bites"].as_u64());
    assert!(count("fish-arrives") > 0, "no fish came on this day");
}

#[test]
fn replay_fishes_the_session_that_compare_counts() {
    let bank = ProgramFolder::new();
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
fn start_long_run(bank: &ProgramFolder, more: &[&str]) -> std::process::Child {
    use std::process::Stdio;
    let args = ["compare", "pond.toml", "--days", "1000000", "--quiet", "--out", "long"];
    bank.command(&[&args[..], more].concat())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts")
}

#[cfg(unix)]
#[test]
fn an_interrupted_comparison_keeps_the_finished_days() {
    for (signal, code) in [("-INT", 130), ("-TERM", 143)] {
        let bank = ProgramFolder::new();
        let child = start_long_run(&bank, &[]);
        // The folder exists once the first days are finished.
        wait_until("the first days are done", || bank.path("long").exists());
        let said = send_signal(child, signal);
        assert_eq!((said.code, said.out.as_str()), (Some(code), ""), "{signal}: {}", said.err);
        assert!(said.err.contains("interrupted after"), "{}", said.err);
        assert_eq!(names(&bank.path("long")), ["sessions.csv", "stamp.json"], "{}", said.err);
        let stamp = fs::read_to_string(bank.path("long/stamp.json")).expect("a stamp");
        let days = json(&stamp)["days"].as_u64().expect("days") as usize;
        assert!(said.err.contains(&format!("after {days} of 1000000 days")), "{}", said.err);
        let rows = fs::read_to_string(bank.path("long/sessions.csv")).expect("rows");
        assert_eq!(rows.lines().count(), 1 + 2 * days, "one row for each finished day and plan");
    }
}

#[cfg(unix)]
#[test]
fn an_interrupted_comparison_leaves_earlier_results_unchanged() {
    let bank = ProgramFolder::new();
    bank.done(&["compare", "pond.toml", "--days", "3", "--quiet", "--out", "long"]);
    let before = names(&bank.path("long"));
    let rows = fs::read(bank.path("long/sessions.csv")).expect("rows");
    let child = start_long_run(&bank, &[]);
    wait_until("the first days are done", || names(&bank.path("long")).len() > before.len());
    let said = send_signal(child, "-INT");
    assert_eq!(said.code, Some(130), "{}", said.err);
    assert!(said.err.contains("as they were"), "{}", said.err);
    assert_eq!(names(&bank.path("long")), before);
    assert_eq!(fs::read(bank.path("long/sessions.csv")).expect("rows"), rows);
}
