//! `compare` of several scenarios, as a user runs it.

use std::fs;
use std::process::Command;

use super::program::{POND, ProgramFolder, json, names};

/// A folder with two ponds; in the second one there are few fish.
fn ponds() -> ProgramFolder {
    let folder = ProgramFolder::new();
    let poor = POND.replace("{ low = 180, high = 300 }", "5").replace("An invented", "A poor");
    fs::write(folder.path("poor.toml"), poor).expect("a scenario");
    folder
}

#[test]
fn two_waters_are_compared_in_one_table_with_files_of_their_own() {
    let folder = ponds();
    let args = ["compare", "pond.toml", "poor.toml", "--days", "10", "--quiet"];
    let output = folder.run_ok(&args);
    for words in ["pond: often", "poor: seldom", "10 days on each water", "own days", "same days"] {
        assert!(output.out.contains(words), "{words} is missing:\n{}", output.out);
    }
    let made = folder.path("output/pond-and-poor-compare");
    assert_eq!(
        names(&made),
        [
            "again.sh",
            "stamp.json",
            "waters.csv",
            "waters.json",
            "weight-curve.png",
            "weight-curve.svg"
        ]
    );
    let rows = fs::read_to_string(made.join("waters.csv")).expect("rows");
    assert!(rows.starts_with("scenario,plan,day,weight_g,"), "{rows}");
    assert_eq!(rows.lines().count(), 1 + 2 * 2 * 10, "a header, and a row a water, plan and day");
    let summary = fs::read_to_string(made.join("waters.json")).expect("a document");
    let result = json(&summary);
    assert_eq!(result["format"], "shoalwise/waters/1");
    assert_eq!(result["pairs"].as_array().map(Vec::len), Some(6));
    assert_eq!(result["waters"][1]["stamp"]["scenario"], "poor");
    assert_eq!(result["waters"][1]["format"], "shoalwise/compare/1");
    let printed = folder.run_ok(&[&args[..], &["--json", "--out", "-"]].concat());
    assert_eq!(printed.out, summary);
    let markdown = folder.run_ok(&[&args[..], &["--markdown", "--out", "-"]].concat()).out;
    assert!(markdown.starts_with("| water: plan |"), "{markdown}");
    // The rows are those of each water alone, with its seed.
    let alone =
        ["compare", "poor.toml", "--days", "10", "--seed", "2", "--quiet", "--out", "alone"];
    folder.run_ok(&alone);
    let alone = fs::read_to_string(folder.path("alone/sessions.csv")).expect("rows");
    let of_poor: Vec<&str> = rows.lines().filter_map(|row| row.strip_prefix("poor,")).collect();
    assert_eq!(of_poor, alone.lines().skip(1).collect::<Vec<_>>());
}

#[test]
#[cfg(unix)]
fn threads_do_not_matter_and_the_files_are_made_again_from_their_folder() {
    let folder = ponds();
    let common = ["compare", "pond.toml", "poor.toml", "--days", "6", "--quiet"];
    let options = ["--set", "poor/plan.often.recast=2 min", "--plan", "often", "--seed", "5"];
    let args = [&common[..], &options[..]].concat();
    folder.run_ok(&[&args[..], &["--threads", "1", "--out", "first"]].concat());
    folder.run_ok(&[&args[..], &["--threads", "7", "--out", "second"]].concat());
    fs::write(folder.path("poor.toml"), "").expect("an empty file");
    let again = Command::new("sh")
        .current_dir(folder.path(""))
        .args(["first/again.sh", "third"])
        .env("SHOALWISE", env!("CARGO_BIN_EXE_shoalwise"))
        .output()
        .expect("a shell");
    assert!(again.status.success(), "{}", String::from_utf8_lossy(&again.stderr));
    for name in ["waters.csv", "waters.json", "weight-curve.svg"] {
        let made = |run: &str| fs::read(folder.path(run).join(name)).expect("a file");
        assert!(made("first") == made("second"), "{name} depends on threads");
        assert!(made("first") == made("third"), "{name} is not made again");
    }
    let stamp = json(&fs::read_to_string(folder.path("first/stamp.json")).expect("a stamp"));
    assert_eq!(stamp["plans"], serde_json::json!(["pond/often", "poor/often"]));
    assert_eq!(stamp["waters"][1]["stamp"]["seed"], 6);
    assert!(
        stamp["waters"][1]["scenario_text"].as_str().is_some_and(|text| text.contains("A poor"))
    );
}

#[test]
fn what_makes_no_sense_across_waters_is_refused_in_one_message() {
    let folder = ponds();
    fs::create_dir(folder.path("elsewhere")).expect("a folder");
    fs::write(folder.path("elsewhere/pond.toml"), POND).expect("a scenario");
    fs::write(folder.path("broken.toml"), POND.replace("90 s", "90")).expect("a scenario");
    let both = ["compare", "pond.toml", "poor.toml"];
    let cases: &[(&[&str], &str)] = &[
        (&["--doubt"], "without --doubt"),
        (&["--vary", "plan.often.recast=1 min,2 min"], "without --vary"),
        (&["--catches", "--repair"], "without --repair and --catches"),
        (&["--days", "10", "--part", "1/2"], "without --part"),
        (&["--plan", "oftn"], "no scenario has a plan \"oftn\""),
        (&["--plan", "poor/oftn"], "Did you mean poor/often?"),
        (&["--plan", "poor/often"], "no plan of pond is left"),
        (&["--out", "-"], "--json or --markdown"),
        (&["--set", "plan.nobody.recast=1 min"], "in the scenario pond"),
        (&["broken.toml"], "broken.toml"),
        (&["nowhere.toml"], "there is no such file"),
        (&["elsewhere/pond.toml"], "two scenarios are called pond"),
        (&["-", "-"], "standard input can be read only once"),
    ];
    let before = names(&folder.path(""));
    for (more, words) in cases {
        let output = folder.run(&[&both[..], more].concat());
        assert_eq!((output.code, output.out.as_str()), (Some(2), ""), "{more:?}");
        assert!(output.err.contains(words), "{more:?}: {}", output.err);
    }
    assert_eq!(names(&folder.path("")), before, "nothing was written");
}

#[test]
fn a_value_can_be_set_in_one_water_and_plans_named_by_water() {
    let folder = ponds();
    let common =
        ["compare", "pond.toml", "poor.toml", "--days", "4", "--quiet", "--json", "--out", "-"];
    let plans = ["--plan", "pond/often", "--plan", "poor/seldom"];
    let chosen = json(&folder.run_ok(&[&common[..], &plans[..]].concat()).out);
    assert_eq!(chosen["pairs"].as_array().map(Vec::len), Some(1));
    assert_eq!(chosen["pairs"][0]["a"], serde_json::json!({"water": "pond", "plan": "often"}));
    assert_eq!(chosen["pairs"][0]["days"], "own");
    let empty = ["--set", "poor/shoal.small.count=0"];
    let set = json(&folder.run_ok(&[&common[..], &plans[..], &empty[..]].concat()).out);
    assert_eq!(set["waters"][0]["plans"], chosen["waters"][0]["plans"]);
    assert_eq!(set["waters"][1]["plans"][0]["weight_kg"]["mean"], 0.0);
}
