//! Shares of a sweep, fished separately and merged, equal the whole sweep to the last byte.

use std::fs;

use super::results::same_bytes;
use crate::command_line::ProgramFolder;

fn share(
    bank: &ProgramFolder,
    part: &str,
    out: &str,
    more: &[&str],
) -> crate::command_line::ProgramOutput {
    let args = ["sweep", "pond.toml", "--vary", "plan.often.recast=1 min,2 min,4 min", "--quiet"];
    let days = ["--days", "70", "--out", out];
    let part = if part.is_empty() { vec![] } else { vec!["--part", part] };
    bank.run(&[&args[..], &days, &part, more].concat())
}

#[test]
fn merged_shares_equal_the_whole_sweep_to_the_last_byte() {
    let bank = ProgramFolder::new();
    assert_eq!(share(&bank, "", "whole", &[]).code, Some(0));
    for part in ["1", "2", "3", "4"] {
        let said = share(&bank, &format!("{part}/4"), part, &[]);
        assert_eq!((said.code, said.out.as_str()), (Some(0), ""), "{}", said.err);
        assert!(!bank.path(part).join("vary.csv").exists(), "a share has no results of its own");
    }
    // In any order, as folders or as stores.
    let said = bank.done(&["merge", "3", "1/sweep.db", "4", "2", "--out", "joined"]);
    assert!(said.err.contains("4 shares are joined"), "{}", said.err);
    same_bytes(&bank.path("whole"), &bank.path("joined"));
    // A merged sweep is a whole sweep: it can be extended.
    let said = bank.run(&[
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
    assert_eq!(said.code, Some(0), "{}", said.err);
}

#[test]
fn gaps_repeats_and_shares_of_another_sweep_are_refused() {
    let bank = ProgramFolder::new();
    for part in ["1/3", "2/3", "3/3"] {
        assert_eq!(share(&bank, part, &part[..1], &[]).code, Some(0));
    }
    fs::create_dir(bank.path("copy")).expect("a folder");
    fs::copy(bank.path("2/sweep.db"), bank.path("copy/sweep.db")).expect("a copy");
    assert_eq!(share(&bank, "2/3", "seed", &["--seed", "2"]).code, Some(0));
    assert_eq!(share(&bank, "2/4", "fourth", &[]).code, Some(0));
    for (shares, says) in [
        (&["1", "3"][..], "shares 2 of 3 are missing"),
        (&["1", "2", "copy", "3"], "share 2/3 was given twice"),
        (&["1", "seed", "3"], "seed 2, not 1"),
        (&["1", "fourth", "3"], "number of shares 4, not 3"),
        (&["1", "nowhere", "3"], "nowhere is not a readable store"),
    ] {
        let said = bank.run(&[&["merge"], shares, &["--out", "joined"]].concat());
        assert_eq!((said.code, said.out.as_str()), (Some(2), ""), "{shares:?}: {}", said.err);
        assert!(said.err.contains(says), "{says} is missing: {}", said.err);
    }
    // A share that lost a block is incomplete, and one with another number in it comes from another machine.
    let change = |text: &str| {
        let store = rusqlite::Connection::open(bank.path("copy/sweep.db")).expect("a database");
        store.execute_batch(text).expect("changed");
    };
    let last = "SELECT max(first_day) FROM block WHERE point = 2";
    change(&format!("DELETE FROM block WHERE point = 2 AND first_day = ({last})"));
    let said = bank.run(&["merge", "1", "copy", "3", "--out", "joined"]);
    assert!(said.err.contains("lacks") && said.err.contains("once more"), "{}", said.err);
    fs::copy(bank.path("2/sweep.db"), bank.path("copy/sweep.db")).expect("a copy");
    change("UPDATE block SET weights_g = zeroblob(length(weights_g))");
    let said = bank.run(&["merge", "1", "copy", "3", "--out", "joined"]);
    assert!(said.err.contains("computes differently"), "{}", said.err);
    assert!(!bank.path("joined").exists(), "nothing is written");
}
