//! Shares of a sweep, fished separately and merged, equal the whole sweep to the last byte.

use std::fs;

use super::digests::digest_again;
use super::results::same_bytes;
use crate::command_line::ProgramFolder;

fn share(
    folder: &ProgramFolder,
    part: &str,
    out: &str,
    more: &[&str],
) -> crate::command_line::ProgramOutput {
    let args = ["sweep", "pond.toml", "--vary", "plan.often.recast=1 min,2 min,4 min", "--quiet"];
    let days = ["--days", "70", "--out", out];
    let part = if part.is_empty() { vec![] } else { vec!["--part", part] };
    folder.run(&[&args[..], &days, &part, more].concat())
}

#[test]
fn merged_shares_equal_the_whole_sweep_to_the_last_byte() {
    let folder = ProgramFolder::new();
    assert_eq!(share(&folder, "", "whole", &[]).code, Some(0));
    for part in ["1", "2", "3", "4"] {
        let output = share(&folder, &format!("{part}/4"), part, &[]);
        assert_eq!((output.code, output.out.as_str()), (Some(0), ""), "{}", output.err);
        assert!(!folder.path(part).join("vary.csv").exists(), "a share has no results of its own");
    }
    // In any order, as folders or as stores.
    let output = folder.run_ok(&["merge", "3", "1/sweep.db", "4", "2", "--out", "joined"]);
    assert!(output.err.contains("4 shares are joined"), "{}", output.err);
    same_bytes(&folder.path("whole"), &folder.path("joined"));
    // A merged sweep is a whole sweep: it can be extended.
    let output = folder.run(&[
        "sweep",
        "pond.toml",
        "--vary",
        "plan.often.recast=1 min,2 min,4 min",
        "--quiet",
        "--days",
        "71",
        "--out",
        "joined",
    ]);
    assert_eq!(output.code, Some(0), "{}", output.err);
}

#[test]
fn gaps_repeats_and_shares_of_another_sweep_are_refused() {
    let folder = ProgramFolder::new();
    for part in ["1/3", "2/3", "3/3"] {
        assert_eq!(share(&folder, part, &part[..1], &[]).code, Some(0));
    }
    fs::create_dir(folder.path("copy")).expect("a folder");
    fs::copy(folder.path("2/sweep.db"), folder.path("copy/sweep.db")).expect("a copy");
    assert_eq!(share(&folder, "2/3", "seed", &["--seed", "2"]).code, Some(0));
    assert_eq!(share(&folder, "2/4", "fourth", &[]).code, Some(0));
    for (shares, message) in [
        (&["1", "3"][..], "of 3 shares these are missing: 2"),
        (&["1", "2", "copy", "3"], "share 2/3 was given twice"),
        (&["1", "seed", "3"], "seed 2, not 1"),
        (&["1", "fourth", "3"], "number of shares 4, not 3"),
        (&["1", "nowhere", "3"], "nowhere is not a readable store"),
    ] {
        let output = folder.run(&[&["merge"], shares, &["--out", "joined"]].concat());
        assert_eq!((output.code, output.out.as_str()), (Some(2), ""), "{shares:?}: {}", output.err);
        assert!(output.err.contains(message), "{message} is missing: {}", output.err);
    }
    // A share that lost a block is incomplete, and one with another number in it comes from another machine.
    let change = |text: &str| {
        let store = rusqlite::Connection::open(folder.path("copy/sweep.db")).expect("a database");
        store.execute_batch(text).expect("changed");
    };
    let last = "SELECT max(first_day) FROM block WHERE point = 2";
    change(&format!("DELETE FROM block WHERE point = 2 AND first_day = ({last})"));
    let output = folder.run(&["merge", "1", "copy", "3", "--out", "joined"]);
    assert!(output.err.contains("lacks") && output.err.contains("once more"), "{}", output.err);
    fs::copy(folder.path("2/sweep.db"), folder.path("copy/sweep.db")).expect("a copy");
    change(
        "UPDATE block SET weights_g = zeroblob(length(weights_g)), weight_sum_g = 0, weight_sum_g2 = 0",
    );
    let output = folder.run(&["merge", "1", "copy", "3", "--out", "joined"]);
    assert!(output.err.contains("is damaged"), "{}", output.err);
    digest_again(&folder.path("copy/sweep.db"));
    let output = folder.run(&["merge", "1", "copy", "3", "--out", "joined"]);
    assert!(output.err.contains("computes differently"), "{}", output.err);
    assert!(!folder.path("joined").exists(), "nothing is written");
}
