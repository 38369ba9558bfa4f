//! Runs the program in a temporary folder that holds a small scenario.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::Value;
use tempfile::TempDir;

/// An invented pond with a session of half an hour, short enough for a test.
pub(crate) const POND: &str = r#"
title = "An invented pond"
session.length = "30 min"
line.middle.distance = "15 m"
shoal.small.count = { low = 180, high = 300 }
shoal.small.weight = "0.8 kg"
shoal.small.home = "middle"
plan.often.recast = "90 s"
plan.seldom.recast = "7 min"
"#;

/// The program, to be started with arguments.
pub(super) fn program() -> Command {
    Command::new(env!("CARGO_BIN_EXE_shoalwise"))
}

/// A temporary folder that holds `pond.toml` and in which the program is run.
pub(crate) struct ProgramFolder {
    folder: TempDir,
}

/// What a run of the program printed, and its exit code.
pub(crate) struct ProgramOutput {
    pub(crate) code: Option<i32>,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl From<Output> for ProgramOutput {
    fn from(output: Output) -> Self {
        Self {
            code: output.status.code(),
            out: String::from_utf8(output.stdout).expect("text"),
            err: String::from_utf8(output.stderr).expect("text"),
        }
    }
}

impl ProgramFolder {
    pub(crate) fn new() -> Self {
        let folder = tempfile::tempdir().expect("a temporary folder");
        fs::write(folder.path().join("pond.toml"), POND).expect("a scenario");
        Self { folder }
    }

    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub(crate) fn command(&self, args: &[&str]) -> Command {
        let mut command = program();
        command.current_dir(self.folder.path()).args(args);
        command
    }

    pub(crate) fn run(&self, args: &[&str]) -> ProgramOutput {
        self.command(args).output().expect("the program starts").into()
    }

    /// Runs a command that must succeed.
    pub(crate) fn run_ok(&self, args: &[&str]) -> ProgramOutput {
        let output = self.run(args);
        assert_eq!(output.code, Some(0), "{args:?}: {}", output.err);
        output
    }
}

/// The names of a folder's entries, sorted.
pub(crate) fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("a folder");
    let mut names: Vec<String> = entries
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

/// Reads a JSON document.
pub(crate) fn json(text: &str) -> Value {
    serde_json::from_str(text).unwrap_or_else(|why| panic!("{why} in {text}"))
}

/// Waits until a condition holds, for one minute at most.
#[cfg(unix)]
pub(crate) fn wait_until(what: &str, holds: impl Fn() -> bool) {
    for _ in 0..6000 {
        if holds() {
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    panic!("waited for a minute until {what}");
}

/// Sends a signal to a running program and waits for its end.
#[cfg(unix)]
pub(crate) fn send_signal(child: std::process::Child, signal: &str) -> ProgramOutput {
    let sent = Command::new("kill").args([signal, &child.id().to_string()]).status();
    assert!(sent.expect("kill starts").success());
    child.wait_with_output().expect("it ends").into()
}
