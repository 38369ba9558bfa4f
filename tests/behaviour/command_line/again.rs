//! Every result says how it was made, and can be made again from what it says.

use std::fs;
use std::process::Command;

use serde_json::json;

use super::program::{POND, ProgramFolder, json, names};

/// Runs the script of a folder into `again`, and compares all files but those in `but`.
fn assert_made_again(work: &ProgramFolder, folder: &str, but: &[&str]) {
    let again = Command::new("sh")
        .current_dir(work.path(""))
        .args([&format!("{folder}/again.sh"), "again"])
        .env("SHOALWISE", env!("CARGO_BIN_EXE_shoalwise"))
        .output()
        .expect("a shell");
    assert!(again.status.success(), "{}", String::from_utf8_lossy(&again.stderr));
    let (old, new) = (work.path(folder), work.path("again"));
    assert_eq!(names(&old), names(&new));
    for name in names(&old).iter().filter(|name| !but.contains(&name.as_str())) {
        let (old, new) = (fs::read(old.join(name)), fs::read(new.join(name)));
        assert!(old.expect("a file") == new.expect("a file"), "{folder}: {name} differs");
    }
}

#[test]
#[cfg(unix)]
fn a_comparison_is_made_again_from_its_folder_after_the_scenario_was_edited() {
    let work = ProgramFolder::new();
    let text = POND.replace("An invented pond", "Nan's mere");
    let section = "[section]\nrivals = 9\nweigh_ins = \"last.csv\"\n";
    let text = format!("{text}{section}");
    fs::write(work.path("nan's mere.toml"), text).expect("a scenario");
    fs::write(work.path("last.csv"), "weight\n4 kg\n6 kg\n7 kg\n9 kg\n12 kg\n").expect("weigh-ins");
    let set = "shoal.small.weight={ low = \"0.5 kg\", high = \"1 kg\" }";
    work.run_ok(&[
        "compare",
        "nan's mere.toml",
        "--set",
        set,
        "--set=plan.often.load=40 g",
        "--fixed-days",
        "--days",
        "6",
        "--units=imperial",
        "--threads",
        "1",
        "--out",
        "first",
        "--quiet",
    ]);
    fs::write(work.path("nan's mere.toml"), "").expect("an empty file");
    fs::write(work.path("last.csv"), "").expect("an empty file");
    assert_made_again(&work, "first", &[]);
    let stamp = json(&fs::read_to_string(work.path("first/stamp.json")).expect("a stamp"));
    assert_eq!(stamp["sets"], json!([set, "plan.often.load=40 g"]));
    assert_eq!((&stamp["fixed_days"], &stamp["units"]), (&json!(true), &json!("imperial")));
    assert!(stamp["scenario_text"].as_str().is_some_and(|text| text.contains("Nan's mere")));
    assert_eq!(stamp["file_sha256"].as_str().map(str::len), Some(64));
    assert_ne!(stamp["file_sha256"], stamp["stamp"]["scenario_sha256"]);
    assert_eq!(stamp["model_version"], sim::study::MODEL_VERSION);
    assert_eq!(stamp["dirty"], sim::study::IS_DIRTY_BUILD);
}

#[test]
#[cfg(unix)]
fn searches_and_sweeps_are_made_again_too() {
    let work = ProgramFolder::new();
    let vary = ["--vary", "plan.often.recast=1 min, 4 min", "--quiet"];
    work.run_ok(&[&["compare", "pond.toml", "--days", "4", "--out", "varied"], &vary[..]].concat());
    // The store says when it was fished.
    assert_made_again(&work, "varied", &["sweep.db", ".sweep.db.lock"]);
    fs::remove_dir_all(work.path("again")).expect("a folder");
    let common = ["--sessions", "300", "--days", "20", "--out", "searched", "--set"];
    let set = ["shoal.small.count=90"];
    work.run_ok(&[&["best", "pond.toml"], &vary[..], &common, &set].concat());
    // The search says how to fish the best plan, with the path of the file that it read.
    assert_made_again(&work, "searched", &["best.json"]);
    let without_path = |name: &str| {
        let mut document = json(&fs::read_to_string(work.path(name)).expect("a document"));
        document.as_object_mut().expect("fields").remove("compare").expect("a command");
        document
    };
    assert_eq!(without_path("searched/best.json"), without_path("again/best.json"));
}

#[test]
fn text_and_report_say_what_was_changed() {
    let work = ProgramFolder::new();
    let args = ["compare", "pond.toml", "--days", "4", "--quiet", "--out", "there"];
    let plain = work.run_ok(&args);
    assert!(!plain.out.contains("The scenario with"), "{}", plain.out);
    let report = |name: &str| fs::read_to_string(work.path(name)).expect("a report");
    assert!(report("there/report.html").contains("again.sh"));
    let changed = ["--set", "shoal.small.count=40", "--fixed-days", "--out", "here"];
    let changed = work.run_ok(&[&args[..5], &changed].concat());
    let first = changed.out.lines().next().unwrap_or_default();
    assert_eq!(first, "The scenario with --set shoal.small.count=40, --fixed-days.");
    let report = report("here/report.html");
    for words in ["<code>shoal.small.count=40</code>", "no: --fixed-days", "<dd>metric</dd>"] {
        assert!(report.contains(words), "{words} is not in the report");
    }
    // Days that are all the same are another run, whose results are not replaced.
    let refused = work.run(&[&args[..], &["--fixed-days"]].concat());
    assert_eq!(refused.code, Some(2));
    assert!(refused.err.contains("fixed_days false, not true"), "{}", refused.err);
}

#[test]
#[cfg(unix)]
fn a_run_with_a_learned_book_is_made_again_after_the_book_was_lost() {
    let work = ProgramFolder::new();
    let book = "format = \"shoalwise/book/1\"\ndraws = [[0.5], [0.6]]\n\
                [[unknown]]\nkey = \"shoal.small.count\"\nsays = \"it's few\"\n";
    fs::write(work.path("own book.toml"), book).expect("a book");
    for (option, out) in
        [(&["--book", "own book.toml"][..], "first"), (&["--book=own book.toml"], "second")]
    {
        fs::write(work.path("own book.toml"), book).expect("a book");
        let args = ["compare", "pond.toml", "--days", "6", "--quiet", "--out", out];
        work.run_ok(&[&args[..], option].concat());
        fs::remove_file(work.path("own book.toml")).expect("it was there");
        assert_made_again(&work, out, &[]);
        fs::remove_dir_all(work.path("again")).expect("a folder");
    }
}
