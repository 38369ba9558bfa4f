//! The commands on a small scenario: output, files and exit codes.

use std::fs;

use serde_json::Value;
use sim::scenario::{Alternative, Mechanism};

use super::program::{POND, ProgramFolder, json, names};
#[cfg(unix)]
use super::program::{send_signal, wait_until};

#[test]
fn compare_prints_a_verdict_and_writes_complete_files() {
    let folder = ProgramFolder::new();
    let output = folder.run_ok(&["compare", "pond.toml", "--days", "10"]);
    for word in ["often", "seldom", "kg", "10 days of seed 1, as asked", "output/pond-compare"] {
        assert!(output.out.contains(word), "{word} is missing:\n{}", output.out);
    }
    assert_eq!(
        names(&folder.path("output/pond-compare")),
        [
            "again.sh",
            "report.html",
            "sessions.csv",
            "stamp.json",
            "summary.json",
            "weight-curve.png",
            "weight-curve.svg"
        ]
    );
    let rows = fs::read_to_string(folder.path("output/pond-compare/sessions.csv")).expect("rows");
    assert_eq!(rows.lines().count(), 1 + 2 * 10, "a header, and a row a plan and day");
    let png = fs::read(folder.path("output/pond-compare/weight-curve.png")).expect("a picture");
    assert!(png.starts_with(b"\x89PNG"));
}

#[test]
fn a_card_is_written_for_phone_and_paper_and_does_not_depend_on_threads() {
    let work = ProgramFolder::new();
    let args = ["card", "pond.toml", "--plan", "often", "--days", "40", "--quiet", "--threads"];
    let output = work.run_ok(&[&args[..], &["1"]].concat());
    assert!(output.out.contains("output/pond-card: card.html, card.pdf"), "{}", output.out);
    let folder = work.path("output/pond-card");
    let all = ["again.sh", "card.html", "card.pdf", "card.svg", "stamp.json", "summary.json"];
    assert_eq!(names(&folder), all);
    work.run_ok(&[&args[..], &["8", "--out", "on-8"]].concat());
    for name in all {
        let (one, eight) = (folder.join(name), work.path("on-8").join(name));
        assert_eq!(fs::read(one).expect("a file"), fs::read(eight).expect("a file"), "{name}");
    }
    let page = fs::read_to_string(folder.join("card.html")).expect("a page");
    for words in ["often", "every 1\u{a0}min", "middle", "groundbait", "Overhead power lines"] {
        assert!(page.contains(words), "{words:?} is not on the card:\n{page}");
    }
}

#[test]
fn a_card_shows_the_same_figures_as_compare() {
    let folder = ProgramFolder::new();
    let common = ["pond.toml", "--plan", "often", "--days", "6", "--json", "--quiet"];
    let card = json(&folder.run_ok(&[&["card"], &common[..]].concat()).out);
    let compared = json(&folder.run_ok(&[&["compare"], &common[..]].concat()).out);
    assert_eq!(card["plans"], compared["plans"]);
    let output = folder.run(&["card", "pond.toml", "--plan", "oftn"]);
    assert_eq!((output.code, output.out.as_str()), (Some(2), ""));
    assert!(output.err.contains("Did you mean often?"), "{}", output.err);
}

#[test]
fn json_output_is_one_document_with_the_same_bytes_as_the_summary() {
    let folder = ProgramFolder::new();
    let output = folder.run_ok(&["compare", "pond.toml", "--days", "6", "--json", "--quiet"]);
    assert_eq!(output.err, "", "--quiet prints nothing");
    let summary =
        fs::read_to_string(folder.path("output/pond-compare/summary.json")).expect("there");
    assert_eq!(output.out, summary);
    let result = json(&output.out);
    assert_eq!(result["format"], "shoalwise/compare/1");
    assert_eq!(
        (result["days"].as_u64(), result["stopped_because"].as_str()),
        (Some(6), Some("asked"))
    );
    for field in ["version", "commit", "seed", "scenario", "scenario_sha256", "target"] {
        assert!(!result["stamp"][field].is_null(), "the stamp lacks {field}");
    }
    for plan in result["plans"].as_array().expect("plans") {
        let last = plan["curve"].as_array().and_then(|curve| curve.last()).expect("a curve");
        assert_eq!(last["mean_kg"], plan["weight_kg"]["mean"]);
    }
    // The hash in the stamp is that of the text as read.
    let set = ["compare", "pond.toml", "--days", "6", "--json", "--quiet", "--set"];
    let other = json(&folder.run_ok(&[&set[..], &["shoal.small.count=20"]].concat()).out);
    assert_ne!(result["stamp"]["scenario_sha256"], other["stamp"]["scenario_sha256"]);
}

#[test]
fn without_days_compare_stops_when_the_verdict_is_clear_and_says_so() {
    let folder = ProgramFolder::new();
    let sets = ["--set", "plan.often.recast=4 min", "--set", "plan.seldom.recast=25 min"];
    let args = [&["compare", "pond.toml", "--quiet"][..], &sets].concat();
    let output = folder.run_ok(&args);
    for words in ["200 days of seed 1: the verdict is clear.", "same day", "different days", "aim"]
    {
        assert!(output.out.contains(words), "{words} is missing:\n{}", output.out);
    }
    folder.run_ok(&args);
    assert_eq!(names(&folder.path("output")), ["pond-compare"], "the run reuses its folder");
    let summary =
        fs::read_to_string(folder.path("output/pond-compare/summary.json")).expect("there");
    let result = json(&summary);
    assert_eq!(result["stopped_because"], "clear");
    assert_eq!(result["pairs"][0]["verdict"], "ahead");
    assert!(result["pairs"][0]["beats"]["on_average"]["share"].as_f64().is_some(), "{summary}");
}

#[test]
fn threads_do_not_change_a_byte() {
    let folder = ProgramFolder::new();
    let run = |threads: &str, out: &str| {
        let args = ["compare", "pond.toml", "--days", "40", "--quiet"];
        let output = folder.run_ok(&[&args[..], &["--threads", threads, "--out", out]].concat());
        output.out.replace(out, "")
    };
    assert_eq!(run("1", "on-1"), run("8", "on-8"));
    for name in names(&folder.path("on-1")) {
        let (one, eight) = (folder.path("on-1").join(&name), folder.path("on-8").join(&name));
        assert_eq!(fs::read(one).expect("a file"), fs::read(eight).expect("a file"), "{name}");
    }
}

#[test]
fn results_of_other_runs_are_never_replaced() {
    let folder = ProgramFolder::new();
    let quick = ["compare", "pond.toml", "--days", "4", "--quiet"];
    folder.run_ok(&quick);
    folder.run_ok(&quick);
    assert_eq!(names(&folder.path("output")), ["pond-compare"], "the same run reuses its folder");
    folder.run_ok(&[&quick[..], &["--seed", "2"]].concat());
    folder.run_ok(&[&quick[..], &["--plan", "often"]].concat());
    assert_eq!(names(&folder.path("output")), ["pond-compare", "pond-compare-2", "pond-compare-3"]);
    // A folder given by name is refused before anything is fished.
    let stamp = fs::read(folder.path("output/pond-compare/stamp.json")).expect("a stamp");
    let output =
        folder.run(&[&quick[..], &["--seed", "5", "--out", "output/pond-compare"]].concat());
    assert_eq!(output.code, Some(2), "{}", output.err);
    assert!(output.err.contains("--out") && output.err.contains("seed 1, not 5"), "{}", output.err);
    assert_eq!(fs::read(folder.path("output/pond-compare/stamp.json")).expect("a stamp"), stamp);
}

#[test]
fn a_folder_that_cannot_be_written_is_a_failure_and_not_wrong_input() {
    let folder = ProgramFolder::new();
    fs::write(folder.path("file"), "in the way").expect("a file");
    let output =
        folder.run(&["compare", "pond.toml", "--days", "2", "--quiet", "--out", "file/below"]);
    assert_eq!(output.code, Some(1), "{}", output.err);
    assert!(output.err.contains("file/below"), "{}", output.err);
}

#[test]
fn only_the_named_plans_are_fished_and_a_wrong_name_gets_the_nearest_suggested() {
    let folder = ProgramFolder::new();
    let args = ["compare", "pond.toml", "--days", "2", "--quiet", "--json", "--plan"];
    let result = json(&folder.run_ok(&[&args[..], &["seldom"]].concat()).out);
    let plans = result["plans"].as_array().expect("plans");
    assert_eq!((plans.len(), plans[0]["name"].as_str()), (1, Some("seldom")));
    for command in [&args[..], &["replay", "pond.toml", "--day", "1", "--plan"]] {
        let output = folder.run(&[command, &["seldon"]].concat());
        assert_eq!((output.code, output.out.as_str()), (Some(2), ""));
        for word in ["\"seldon\"", "Did you mean seldom?", "often, seldom"] {
            assert!(output.err.contains(word), "{word} is missing: {}", output.err);
        }
    }
    let output = folder.run(&[&args[..], &["zander-at-night"]].concat());
    assert!(!output.err.contains("Did you mean"), "no name is near: {}", output.err);
}

#[test]
fn units_are_those_of_the_scenario_unless_an_option_sets_them() {
    let folder = ProgramFolder::new();
    let args = ["compare", "pond.toml", "--days", "3", "--quiet"];
    let metric = folder.run_ok(&args).out;
    let imperial = folder.run_ok(&[&args[..], &["--units", "imperial"]].concat()).out;
    assert!(metric.contains("\u{a0}kg") && !metric.contains("\u{a0}lb"), "{metric}");
    assert!(imperial.contains("\u{a0}lb") || imperial.contains("\u{a0}oz"), "{imperial}");
    assert!(!imperial.contains("\u{a0}kg"), "{imperial}");
}

#[test]
fn a_value_is_varied_for_every_plan_on_the_same_days() {
    let work = ProgramFolder::new();
    let args = ["compare", "pond.toml", "--days", "5", "--quiet", "--vary"];
    let output = work.run_ok(&[&args[..], &["plan.often.recast=60 s, 2 min, 4 min"]].concat());
    for word in ["1\u{a0}min", "2\u{a0}min", "4\u{a0}min", "often", "output/pond-compare"] {
        assert!(output.out.contains(word), "{word} is missing:\n{}", output.out);
    }
    let folder = work.path("output/pond-compare");
    for name in ["vary.csv", "vary.json", "stamp.json", "vary-often.svg", "vary-often.png"] {
        assert!(folder.join(name).exists(), "{name} is missing: {:?}", names(&folder));
    }
    let result = json(&fs::read_to_string(folder.join("vary.json")).expect("there"));
    assert_eq!(result["format"], "shoalwise/vary/1");
    let settings = result["settings"].as_array().expect("settings");
    assert_eq!(settings.len(), 3);
    // The plan that is not varied has the same result at each value, since the days are the same.
    assert_eq!(settings[0]["plans"][1], settings[2]["plans"][1]);
    // Another list of values is another run.
    work.run_ok(&[&args[..], &["plan.often.recast=60 s, 2 min"]].concat());
    assert!(work.path("output/pond-compare-2").exists());
}

#[test]
fn the_sensitivity_study_reports_reversals_of_the_verdict_and_its_cost() {
    let folder = ProgramFolder::new();
    let args = ["compare", "pond.toml", "--doubt", "--days", "8"];
    let output = folder.run_ok(&args);
    for word in ["a session", "unknowns", "chance within a day", "output/pond-doubt"] {
        assert!(output.out.contains(word), "{word} is missing:\n{}", output.out);
    }
    assert!(
        output.err.contains("unknowns to vary") && output.err.contains("sessions"),
        "{}",
        output.err
    );
    assert_eq!(
        names(&folder.path("output/pond-doubt")),
        ["again.sh", "doubt.json", "doubt.png", "doubt.svg", "stamp.json"]
    );
    let json_args = [&args[..], &["--json", "--quiet"]].concat();
    let one = folder.run_ok(&[&json_args[..], &["--threads", "1"]].concat());
    let result = json(&one.out);
    assert_eq!(one.out, folder.run_ok(&[&json_args[..], &["--threads", "4"]].concat()).out);
    assert_eq!(result["format"], "shoalwise/doubt/1");
    assert_eq!(result["stamp"]["seed"], 1);
    let few = result["few"].as_array().expect("few");
    assert_eq!((few.len(), few[0]["line"].as_array().expect("a line").len()), (6, 9));
    let sum: f64 = ["luck", "days", "unknowns", "days_with_unknowns"]
        .iter()
        .map(|part| result["variance"]["difference"][part]["share"].as_f64().expect("a share"))
        .sum();
    assert!((sum - 1.0).abs() < 1e-9, "{sum}");
    without_each_mechanism_as_the_report_says(&result, &output.out);
    // Results of another kind in the folder are not replaced, and a single plan has no verdict.
    let output = folder.run(&["compare", "pond.toml", "--days", "8", "--out", "output/pond-doubt"]);
    assert_eq!(output.code, Some(2), "{}", output.err);
    for wrong in [&["--plan", "often"][..], &["--fixed-days"]] {
        let output = folder.run(&[&args[..], wrong].concat());
        assert_eq!((output.code, output.out.as_str()), (Some(2), ""), "{}", output.err);
    }
}

/// The verdict without each mechanism of the model: order, chances and words of a comparison over eight days.
fn without_each_mechanism_as_the_report_says(result: &Value, words: &str) {
    let number = |value: &Value| value.as_f64().expect("a number");
    let structure = &result["structure"];
    let without = structure["without"].as_array().expect("mechanisms");
    // The pond states neither line nor hook, so that their mechanism is left out.
    assert_eq!(without.len(), Mechanism::ALL.len() - 1);
    let otherwise = structure["otherwise"].as_array().expect("alternatives");
    assert_eq!(otherwise.len(), Alternative::ALL.len());
    let others: Vec<f64> = otherwise.iter().map(|other| number(&other["mean_kg"])).collect();
    assert!(others.is_sorted(), "{others:?}");
    let means: Vec<f64> = without.iter().map(|without| number(&without["mean_kg"])).collect();
    assert!(means.is_sorted(), "{means:?}");
    let overall = number(&result["difference_kg"]["mean"]);
    let mean_without = |clause: &str| {
        let found = without.iter().find(|without| without["mechanism"] == clause);
        number(&found.expect(clause)["mean_kg"])
    };
    // The pond has no clock, so that the light does not change; its fish do eat in company.
    assert!((mean_without("carp are keener as the light goes") - overall).abs() < 1e-9);
    assert!((mean_without("fish that feed draw others") - overall).abs() > 1e-3);
    assert!(structure["chance_better"].is_null(), "eight days cannot tell chance from unknowns");
    assert!(!words.contains("If the model is right"), "{words}");
    let turned = means.iter().filter(|mean| **mean < 0.0).count();
    assert_eq!(words.matches("Were it not true that").count(), turned.max(1), "{words}");
    let on_one_line = words.split_whitespace().collect::<Vec<_>>().join(" ");
    for other in otherwise {
        let clause = other["alternative"].as_str().expect("a clause");
        let turns = number(&other["mean_kg"]) < 0.0;
        assert_eq!(on_one_line.contains(&format!("If {clause}, often ")), turns, "{words}");
    }
    let all_stand = others.iter().all(|mean| *mean >= 0.0);
    assert_eq!(
        on_one_line.contains("answer an open question in another way"),
        all_stand,
        "{words}"
    );
}

#[test]
fn fixed_days_leave_replicate_noise_and_say_so() {
    let folder = ProgramFolder::new();
    let output = folder.run_ok(&["compare", "pond.toml", "--days", "6", "--quiet", "--fixed-days"]);
    assert!(output.out.contains("All days are the same"), "{}", output.out);
    let rows = fs::read_to_string(folder.path("output/pond-compare/sessions.csv")).expect("rows");
    let weights: Vec<&str> = rows.lines().filter(|row| row.starts_with("often,")).collect();
    assert!(
        weights.windows(2).any(|two| two[0][8..] != two[1][8..]),
        "the replicate noise differs: {rows}"
    );
    let replayed = folder.run_ok(&[
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
    let folder = ProgramFolder::new();
    let args = ["compare", "pond.toml", "--days", "2", "--quiet", "--json", "--plan", "often"];
    let vary = ["--vary", "plan.often.recast=1 min,2 min", "--vary", "shoal.small.count=20..40/3"];
    let result = json(&folder.run_ok(&[&args[..], &vary].concat()).out);
    let settings = result["settings"].as_array().expect("settings");
    let values: Vec<&Value> = settings.iter().map(|setting| &setting["values"]).collect();
    assert_eq!(values.len(), 6);
    assert_eq!(*values[0], serde_json::json!(["1 min", "20"]));
    assert_eq!(*values[1], serde_json::json!(["1 min", "30"]), "the last key varies fastest");
    assert_eq!(*values[5], serde_json::json!(["2 min", "40"]));
}

#[test]
fn a_wrong_value_to_vary_is_wrong_input() {
    let folder = ProgramFolder::new();
    for vary in ["plan.often.recast", "plan.often.recats=1 min", "plan.often.recast=1 min,2 kg"] {
        let output = folder.run(&["compare", "pond.toml", "--quiet", "--vary", vary]);
        assert_eq!((output.code, output.out.as_str()), (Some(2), ""), "{vary}: {}", output.err);
        let begins = ["shoalwise: ", "--vary: "].iter().any(|words| output.err.starts_with(words));
        assert!(begins, "{}", output.err);
    }
    assert!(!folder.path("output").exists(), "nothing is written");
}

#[test]
fn check_reports_that_a_scenario_is_valid_or_all_errors_in_it() {
    let folder = ProgramFolder::new();
    let output = folder.run_ok(&["check", "pond.toml"]);
    assert_eq!(output.out, "scenario is sound: 1 line, 1 shoal, 2 plans, 0.5 h\n");
    let wrong =
        POND.replace("\"0.8 kg\"", "\"0.8 min\"").replace("recast = \"90 s\"", "recats = 3");
    fs::write(folder.path("wrong.toml"), wrong).expect("a scenario");
    for command in ["check", "compare"] {
        let output = folder.run(&[command, "wrong.toml"]);
        assert_eq!((output.code, output.out.as_str()), (Some(2), ""));
        for word in ["shoal.small.weight", "recats", "recast"] {
            assert!(output.err.contains(word), "{command}: {word} is missing: {}", output.err);
        }
    }
    assert!(!folder.path("output").exists(), "nothing is written");
}

#[test]
fn replay_prints_one_session_as_text_and_as_json() {
    let folder = ProgramFolder::new();
    let args = ["replay", "pond.toml", "--plan", "often", "--day", "3"];
    let words = folder.run_ok(&args).out;
    assert!(words.starts_with("0:00:00  "), "{words}");
    assert!(words.contains(" to middle"), "{words}");
    let last = words.lines().last().expect("a line");
    assert!(last.starts_with("0:30:00  ") && last.contains("casts"), "{last}");

    let output = folder.run_ok(&[&args[..], &["--json"]].concat());
    let lines: Vec<Value> = output.out.lines().map(json).collect();
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
    let folder = ProgramFolder::new();
    folder.run_ok(&["compare", "pond.toml", "--days", "5", "--quiet"]);
    let rows = fs::read_to_string(folder.path("output/pond-compare/sessions.csv")).expect("rows");
    let output =
        folder.run_ok(&["replay", "pond.toml", "--plan", "seldom", "--day", "5", "--json"]);
    let replayed = json(output.out.lines().last().expect("an outcome"));
    let outcome = &replayed["outcome"];
    let starts =
        format!("seldom,5,{},{},{},", outcome["weight_g"], outcome["fish"], outcome["bites"]);
    assert!(rows.lines().any(|row| row.starts_with(&starts)), "no row {starts} in\n{rows}");
}

/// A run that takes hours unless it is stopped.
#[cfg(unix)]
fn start_long_run(folder: &ProgramFolder, more: &[&str]) -> std::process::Child {
    use std::process::Stdio;
    let args = ["compare", "pond.toml", "--days", "1000000", "--quiet", "--out", "long"];
    folder
        .command(&[&args[..], more].concat())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts")
}

/// Whether the long run has begun its table of sessions, as it does when its first days are finished.
#[cfg(unix)]
fn has_unfinished_rows(folder: &ProgramFolder) -> bool {
    let long = folder.path("long");
    long.exists() && names(&long).iter().any(|name| name.ends_with(".unfinished"))
}

#[cfg(unix)]
#[test]
fn an_interrupted_comparison_keeps_the_finished_days() {
    for (signal, code) in [("-INT", 130), ("-TERM", 143)] {
        let folder = ProgramFolder::new();
        let child = start_long_run(&folder, &[]);
        wait_until("the first days are done", || has_unfinished_rows(&folder));
        let output = send_signal(child, signal);
        assert_eq!(
            (output.code, output.out.as_str()),
            (Some(code), ""),
            "{signal}: {}",
            output.err
        );
        assert!(output.err.contains("interrupted after"), "{}", output.err);
        assert_eq!(
            names(&folder.path("long")),
            ["again.sh", "sessions.csv", "stamp.json"],
            "{}",
            output.err
        );
        let stamp = fs::read_to_string(folder.path("long/stamp.json")).expect("a stamp");
        let days = json(&stamp)["days"].as_u64().expect("days") as usize;
        let after = format!("after {} of 1,000,000 days", sim::report::grouped(days as u64));
        assert!(output.err.contains(&after), "{}", output.err);
        let rows = fs::read_to_string(folder.path("long/sessions.csv")).expect("rows");
        assert_eq!(rows.lines().count(), 1 + 2 * days, "one row for each finished day and plan");
    }
}

#[cfg(unix)]
#[test]
fn an_interrupted_comparison_leaves_earlier_results_unchanged() {
    let folder = ProgramFolder::new();
    folder.run_ok(&["compare", "pond.toml", "--days", "3", "--quiet", "--out", "long"]);
    let before = names(&folder.path("long"));
    let rows = fs::read(folder.path("long/sessions.csv")).expect("rows");
    let child = start_long_run(&folder, &[]);
    wait_until("the first days are done", || has_unfinished_rows(&folder));
    let output = send_signal(child, "-INT");
    assert_eq!(output.code, Some(130), "{}", output.err);
    assert!(output.err.contains("as they were"), "{}", output.err);
    assert_eq!(names(&folder.path("long")), before);
    assert_eq!(fs::read(folder.path("long/sessions.csv")).expect("rows"), rows);
}
