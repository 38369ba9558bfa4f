//! The page in a real browser, against the real program.

use std::path::Path;
use std::process::Command;

/// Runs the script that drives the browser; `.ci/run` installs what it needs and runs this test.
///
/// It needs `npm ci` in `tests/page` and a Chromium on the path, so it is ignored by default.
#[test]
#[ignore = "`.ci/run` runs it; needs Chromium and `npm ci` in tests/page; `cargo test --release --test behaviour -- --ignored browser`"]
fn the_page_works_in_a_browser() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/page");
    let status = Command::new("node")
        .current_dir(&folder)
        .arg("run.mjs")
        .arg(env!("CARGO_BIN_EXE_shoalwise"))
        .status()
        .expect("node is on the path");
    assert!(status.success(), "the browser tests say what failed, above");
}
