//! Errors of the system are reported once, in words, with what to do.
#![cfg(unix)]

use std::fs;

use super::program::{ProgramFolder, ProgramOutput};

/// Runs a line of the shell, in which `$P` is the program.
fn shell(folder: &ProgramFolder, line: &str) -> ProgramOutput {
    let mut command = std::process::Command::new("sh");
    command.current_dir(folder.path("")).env("P", env!("CARGO_BIN_EXE_shoalwise"));
    command.args(["-c", line]).output().expect("a shell").into()
}

/// Checks the exit code and that the message has some words, each of them once, and no number of the system's.
fn check(output: &ProgramOutput, code: i32, words: &[&str]) {
    assert_eq!(output.code, Some(code), "{}", output.err);
    assert_eq!(output.err.matches("os error").count(), 0, "{}", output.err);
    for word in words {
        assert_eq!(output.err.matches(word).count(), 1, "{word} in {}", output.err);
    }
}

#[test]
fn a_full_disk_says_so_and_what_to_do() {
    let folder = ProgramFolder::new();
    let full = ["the disk is full", "free some space"];
    for line in [
        "$P params > /dev/full",
        "$P check pond.toml --json > /dev/full",
        "$P learn --template > /dev/full",
        "$P compare pond.toml --days 2 --quiet --out there > /dev/full",
        "$P compare pond.toml --days 2 --quiet --json --out there > /dev/full",
        "$P sweep pond.toml --vary plan.often.recast=1min,2min --days 2 --quiet --out here > /dev/full",
        "$P replay pond.toml --plan often --day 1 > /dev/full",
    ] {
        check(&shell(&folder, line), 1, &full);
    }
    assert!(
        folder.path("there/summary.json").exists(),
        "files are complete before anything is printed"
    );
}

#[test]
fn a_file_that_may_not_grow_names_the_file_and_what_to_do() {
    let folder = ProgramFolder::new();
    // As a limit of the system, which acts on every file: none may have a byte.
    let line = "trap '' XFSZ; ulimit -f 0; exec $P compare pond.toml --days 2 --quiet --out there";
    check(&shell(&folder, line), 1, &["cannot write there", "larger than the system allows"]);
    let left = fs::read_dir(folder.path("there")).map_or(0, Iterator::count);
    assert_eq!(left, 0, "what could not be written is removed");
    let output =
        folder.run_ok(&["compare", "pond.toml", "--days", "2", "--quiet", "--out", "there"]);
    assert!(output.out.contains("Files in there"), "the folder is free: {}", output.out);
}

#[test]
fn a_path_that_cannot_be_is_explained() {
    let folder = ProgramFolder::new();
    let long = "x".repeat(300);
    let in_the_way = "a file is in the place of a folder";
    for (args, code, word) in [
        (vec!["check", &long], 2, "the system does not allow this name"),
        (vec!["check", "pond.toml/there"], 2, in_the_way),
        (vec!["learn", "pond.toml/there"], 2, in_the_way),
        (vec!["new", "away/pond.toml"], 2, "there is no folder for away/pond.toml"),
        (vec!["learn", "--template", "away/log.csv"], 1, "create the folder first"),
        (vec!["compare", "pond.toml", "--days", "2", "--out", "pond.toml/there"], 1, in_the_way),
        (
            vec!["compare", "pond.toml", "--days", "2", "--out", &long],
            1,
            "does not allow this name",
        ),
    ] {
        check(&folder.run(&args), code, &[word]);
    }
    let args = ["sweep", "pond.toml", "--vary", "plan.often.recast=1min,2min", "--days", "2"];
    check(&folder.run(&[&args[..], &["--out", "pond.toml/there"]].concat()), 1, &[in_the_way]);
}
