//! How a sweep starts: with a word within a second, and answering questions from the first moment.
#![cfg(unix)]

use std::fs;
use std::io::Read;
use std::os::unix::fs::PermissionsExt;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use crate::command_line::{POND, ProgramFolder};

/// A sweep of many points, whose reading takes some seconds.
const MANY_POINTS: [&str; 10] = [
    "sweep",
    "pond.toml",
    "--vary",
    "plan.often.recast=1 min..9 min",
    "--points",
    "10000",
    "--days",
    "2",
    "--out",
    "here",
];

#[test]
fn the_first_word_of_a_sweep_does_not_wait_for_its_points() {
    let folder = ProgramFolder::new();
    let mut command = folder.command(&MANY_POINTS);
    let started = Instant::now();
    let mut child =
        command.stdout(Stdio::null()).stderr(Stdio::piped()).spawn().expect("it starts");
    let mut first = [0; 10];
    child.stderr.take().expect("a pipe").read_exact(&mut first).expect("a word");
    let took = started.elapsed();
    child.kill().expect("killed");
    child.wait().expect("it ends");
    assert_eq!(&first, b"shoalwise:");
    // It comes after half a second; the rest is for a busy machine.
    assert!(took < Duration::from_secs(2), "{took:?}");
}

#[test]
fn a_status_never_fails_while_the_sweep_starts() {
    let folder = ProgramFolder::new();
    let args = MANY_POINTS.map(|word| if word == "10000" { "300" } else { word });
    let mut command = folder.command(&[&args[..], &["--quiet"]].concat());
    let mut child = command.stdout(Stdio::null()).stderr(Stdio::null()).spawn().expect("it starts");
    let (mut before, mut after) = (0, 0);
    while child.try_wait().expect("a process").is_none() || after == 0 {
        let status = folder.run(&[&args[..], &["--status"]].concat());
        if status.code == Some(0) {
            assert!(status.out.contains(" sessions, "), "{}", status.out);
            after += 1;
        } else {
            assert!(after == 0 && status.code == Some(2), "after {after}: {}", status.err);
            assert!(status.err.contains("there is no sweep at here/sweep.db"), "{}", status.err);
            before += 1;
        }
    }
    println!("{before} questions before the store was there, {after} afterwards");
}

#[test]
fn a_drawn_point_beyond_its_range_is_told_by_the_range() {
    let folder = ProgramFolder::new();
    let vary = MANY_POINTS.map(|word| match word {
        "plan.often.recast=1 min..9 min" => "plan.often.recast=1 s..9 min",
        other => other,
    });
    let output = folder.run(&vary);
    assert_eq!((output.code, output.out.as_str()), (Some(2), ""), "{}", output.err);
    let words = "--vary: plan.often.recast: \"1 s\" is out of range; it may be 10 s to 24 h";
    assert!(output.err.contains(words), "{}", output.err);
    assert!(!folder.path("here").exists(), "nothing is written");
}

/// Stands for GNU parallel: fishes all shares in a folder that has only the files that would be sent.
const PARALLEL: &str = r#"#!/usr/bin/env bash
set -eu
mkdir -p far
while [ "$1" != bash ]; do
    if [ "$1" = --basefile ]; then cp "$2" far/; fi
    shift
done
while read -r part; do
    (cd far && bash share.sh "$part" "$4" && mv "share-$part.db" ..)
done
"#;

#[test]
fn the_pcs_of_a_club_get_the_weigh_ins_too() {
    let folder = ProgramFolder::new();
    let text = format!("{POND}\n[section]\nrivals = 5\nplaces = 2\nweigh_ins = \"rivals.csv\"\n");
    fs::write(folder.path("pond.toml"), text).expect("a scenario");
    fs::write(folder.path("rivals.csv"), "weight\n12 kg\n9 kg\n8 kg\n7 kg\n6 kg\n")
        .expect("a table");
    fs::create_dir(folder.path("bin")).expect("a folder");
    let parallel = folder.path("bin/parallel");
    fs::write(&parallel, PARALLEL).expect("a script");
    fs::set_permissions(&parallel, fs::Permissions::from_mode(0o755)).expect("it may run");
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/many-machines/club-pcs.sh");
    let path = std::env::var("PATH").expect("a path");
    let output = Command::new("bash")
        .arg(script)
        .args(["1/a,1/b", "2", "night", "pond.toml", "--days", "4"])
        .args(["--vary", "plan.often.recast=1 min,2 min"])
        .current_dir(folder.path(""))
        .env("SHOALWISE", env!("CARGO_BIN_EXE_shoalwise"))
        .env("PATH", format!("{}:{path}", folder.path("bin").display()))
        .output()
        .expect("bash starts");
    let err = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{err}");
    assert!(folder.path("night/whole/vary.csv").exists(), "{err}");
}
