//! Shares of a comparison, fished separately and merged, equal the comparison to the last byte.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use super::digests::digest_again;
use crate::command_line::{ProgramFolder, ProgramOutput};

fn compared(folder: &ProgramFolder, more: &[&str]) -> ProgramOutput {
    folder.run(&[&["compare", "pond.toml", "--days", "70", "--quiet"], more].concat())
}

/// Every file of a folder except the script that makes them again, which names the command.
fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry"));
    let named = |entry: fs::DirEntry| {
        let bytes = fs::read(entry.path()).expect("a file");
        (entry.file_name().to_string_lossy().into_owned(), bytes)
    };
    entries.map(named).filter(|(name, _)| name != "again.sh").collect()
}

#[test]
fn merged_shares_of_a_comparison_equal_the_comparison_to_the_last_byte() {
    let folder = ProgramFolder::new();
    let whole = compared(&folder, &["--out", "whole"]);
    assert_eq!(whole.code, Some(0), "{}", whole.err);
    for part in ["1", "2"] {
        let output = compared(&folder, &["--part", &format!("{part}/2"), "--out", part]);
        assert_eq!((output.code, output.out.as_str()), (Some(0), ""), "{}", output.err);
        assert!(
            !folder.path(part).join("summary.json").exists(),
            "a share has no results of its own"
        );
    }
    let joined = folder.run_ok(&["merge", "2", "1", "--out", "joined"]);
    assert!(joined.err.contains("2 shares are joined"), "{}", joined.err);
    let (whole_files, joined_files) = (files(&folder.path("whole")), files(&folder.path("joined")));
    assert_eq!(whole_files.keys().collect::<Vec<_>>(), joined_files.keys().collect::<Vec<_>>());
    assert!(whole_files.contains_key("sessions.csv") && whole_files.contains_key("report.html"));
    for (name, bytes) in whole_files {
        assert!(joined_files[&name] == bytes, "{name} differs");
    }
    // The printed text is the same too, except for the name of the folder.
    let words = |output: &ProgramOutput| {
        output.out.lines().rev().skip(1).map(str::to_owned).collect::<Vec<_>>()
    };
    assert_eq!(words(&whole), words(&joined));
}

#[test]
fn an_unfitting_share_of_a_comparison_is_refused() {
    let folder = ProgramFolder::new();
    for (more, message) in [
        (&["--part", "0/2"][..], "0/2"),
        (&["--part", "1/2", "--doubt"], "--doubt"),
        (&["--part", "1/2", "--vary", "plan.often.recast=1 min,2 min"], "--vary"),
    ] {
        let output = compared(&folder, more);
        assert_eq!((output.code, output.out.as_str()), (Some(2), ""), "{more:?}: {}", output.err);
        assert!(output.err.contains(message), "{message} is missing: {}", output.err);
    }
    let output = folder.run(&["compare", "pond.toml", "--part", "1/2"]);
    assert_eq!(output.code, Some(2));
    assert!(output.err.contains("--days"), "{}", output.err);
    // A share of a comparison cannot be merged with one of a sweep.
    assert_eq!(compared(&folder, &["--part", "1/2", "--out", "1"]).code, Some(0));
    let swept = folder.run(&[
        "sweep",
        "pond.toml",
        "--days",
        "70",
        "--quiet",
        "--part",
        "2/2",
        "--out",
        "2",
        "--vary",
        "plan.often.recast=1 min,2 min",
    ]);
    assert_eq!(swept.code, Some(0), "{}", swept.err);
    let output = folder.run(&["merge", "1", "2", "--out", "joined"]);
    assert_eq!(output.code, Some(2));
    assert!(output.err.contains("share of another sweep"), "{}", output.err);
    // A changed day is detected, since it is fished again.
    assert_eq!(compared(&folder, &["--part", "2/2", "--out", "other"]).code, Some(0));
    let store = rusqlite::Connection::open(folder.path("other/sweep.db")).expect("a database");
    store
        .execute_batch(
            "UPDATE day SET fished = (SELECT fished FROM day WHERE day = 34) WHERE day = 33",
        )
        .expect("changed");
    drop(store);
    let output = folder.run(&["merge", "1", "other", "--out", "joined"]);
    assert_eq!(output.code, Some(2));
    assert!(output.err.contains("is damaged: day 33"), "{}", output.err);
    digest_again(&folder.path("other/sweep.db"));
    let output = folder.run(&["merge", "1", "other", "--out", "joined"]);
    assert_eq!(output.code, Some(2));
    assert!(output.err.contains("computes differently"), "{}", output.err);
}
