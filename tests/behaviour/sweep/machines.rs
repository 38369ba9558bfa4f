//! Tools that distribute a sweep: each is started here, loses a host, and gives the same bytes.
//!
//! They need root, a Debian-like Linux and packages, which `.ci/run` installs; so they are ignored by default.

use std::path::Path;
use std::process::Command;

/// Runs a script of `tests/engines/` and checks its last word.
fn engine(script: &str) {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folder = tempfile::tempdir().expect("a temporary folder");
    let output = Command::new("bash")
        .arg(root.join("tests/engines").join(script))
        .args([root.join("scenarios/many-machines"), env!("CARGO_BIN_EXE_shoalwise").into()])
        .current_dir(folder.path())
        .output()
        .expect("bash starts");
    let (out, err) =
        (String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
    println!("{out}");
    assert!(output.status.success(), "{script} failed:\n{out}\n{err}");
    assert!(out.trim_end().ends_with("the same bytes"), "{script} did not finish:\n{out}\n{err}");
}

#[test]
#[ignore = "starts two ssh servers; .ci/run installs what it needs"]
fn gnu_parallel_over_ssh_loses_a_host_and_gives_the_same_bytes() {
    engine("parallel.sh");
}

#[test]
#[ignore = "starts a Slurm cluster of two nodes; .ci/run installs what it needs"]
fn a_slurm_job_array_loses_a_node_and_gives_the_same_bytes() {
    engine("slurm.sh");
}
