//! Runs at the same time, and runs that are killed, lose nothing.
#![cfg(unix)]

use std::fs;
use std::process::{Child, Stdio};
use std::time::Duration;

use super::program::{ProgramFolder, json, names};

/// Starts a comparison of a few days, without a named folder.
fn start(folder: &ProgramFolder, more: &[&str]) -> Child {
    let args = ["compare", "pond.toml", "--days", "4", "--quiet"];
    let mut command = folder.command(&[&args[..], more].concat());
    command.stdout(Stdio::null()).stderr(Stdio::null()).spawn().expect("the program starts")
}

/// Runs pairs of comparisons with different seeds at the same moment. Fails if a result is missing.
fn run_pairs(pairs: usize) {
    for pair in 0..pairs {
        let folder = ProgramFolder::new();
        let children = ["1", "2"].map(|seed| start(&folder, &["--seed", seed]));
        for mut child in children {
            assert_eq!(child.wait().expect("it ends").code(), Some(0), "pair {pair}");
        }
        let mut seeds = Vec::new();
        for name in names(&folder.path("output")) {
            let results = folder.path("output").join(name);
            let read = |name| fs::read_to_string(results.join(name)).expect("a file");
            let (stamp, summary) = (json(&read("stamp.json")), json(&read("summary.json")));
            assert_eq!(stamp["stamp"], summary["stamp"], "files of one run in one folder");
            seeds.push(stamp["stamp"]["seed"].as_u64());
        }
        seeds.sort_unstable();
        assert_eq!(seeds, [Some(1), Some(2)], "pair {pair}");
    }
}

/// Kills comparisons of one folder at random moments, and finishes each. Fails if the files differ from those of an
/// undisturbed run, or if any file remains unfinished.
fn kill_at_random(kills: usize) {
    let folder = ProgramFolder::new();
    let mut whole = start(&folder, &["--out", "whole"]);
    assert_eq!(whole.wait().expect("it ends").code(), Some(0));
    let mut chance = 11_u64;
    for kill in 0..kills {
        let mut child = start(&folder, &["--out", "killed"]);
        // Delays from 0 to 0.4 s, by the generator of Lewis, Goodman and Miller.
        chance = chance * 16_807 % 2_147_483_647;
        std::thread::sleep(Duration::from_millis(chance % 400));
        child.kill().expect("killed");
        child.wait().expect("it ends");
        if kill % 4 != 3 {
            continue;
        }
        let mut again = start(&folder, &["--out", "killed"]);
        assert_eq!(again.wait().expect("it ends").code(), Some(0), "after kill {kill}");
        assert_eq!(names(&folder.path("killed")), names(&folder.path("whole")));
        for name in names(&folder.path("whole")) {
            let read = |run: &str| fs::read(folder.path(run).join(&name)).expect("a file");
            assert!(read("whole") == read("killed"), "{name} differs after kill {kill}");
        }
    }
}

/// Kills comparisons while one of their files is half written, each time another one, and finishes each: `least` kills,
/// and more until `wanted` of them have left an unfinished file, because on a busy machine many come too late. Fails if the
/// files differ from those of an undisturbed run, or if ten times as many kills were not enough.
fn kill_while_writing(least: usize, wanted: usize) {
    let folder = ProgramFolder::new();
    let mut whole = start(&folder, &["--out", "whole"]);
    assert_eq!(whole.wait().expect("it ends").code(), Some(0));
    let unfinished = || -> Vec<String> {
        let entries = fs::read_dir(folder.path("killed")).into_iter().flatten().flatten();
        let all = entries.map(|entry| entry.file_name().to_string_lossy().into_owned());
        all.filter(|name| name.ends_with(".unfinished")).collect()
    };
    let mut half_written = 0;
    let mut kill = 0;
    while kill < least || half_written < wanted {
        assert!(kill < 10 * least, "of {kill} kills only {half_written} left an unfinished file");
        let mut child = start(&folder, &["--out", "killed"]);
        let mut seen: Vec<String> = Vec::new();
        while seen.len() <= kill % 8 && child.try_wait().expect("a process").is_none() {
            for name in unfinished() {
                if !seen.contains(&name) {
                    seen.push(name);
                }
            }
        }
        child.kill().expect("killed");
        child.wait().expect("it ends");
        half_written += usize::from(!unfinished().is_empty());
        let mut again = start(&folder, &["--out", "killed"]);
        assert_eq!(again.wait().expect("it ends").code(), Some(0), "after kill {kill}");
        assert_eq!(names(&folder.path("killed")), names(&folder.path("whole")));
        for name in names(&folder.path("whole")) {
            let read = |run: &str| fs::read(folder.path(run).join(&name)).expect("a file");
            assert!(read("whole") == read("killed"), "{name} differs after kill {kill}");
        }
        if kill % 2 == 0 {
            fs::remove_dir_all(folder.path("killed")).expect("removed");
        }
        kill += 1;
    }
    println!("{kill} kills, {half_written} with a file half written");
}

#[test]
fn a_run_killed_while_it_writes_a_file_ends_with_the_same_bytes() {
    kill_while_writing(12, 3);
}

#[test]
fn two_runs_at_the_same_moment_keep_both_results() {
    run_pairs(4);
}

#[test]
fn a_run_killed_at_any_moment_does_not_lock_its_folder() {
    kill_at_random(8);
}

#[test]
#[ignore = "takes minutes: `.ci/long` runs it"]
fn a_hundred_pairs_and_two_hundred_kills_lose_nothing() {
    run_pairs(100);
    kill_at_random(200);
    kill_while_writing(200, 50);
}
