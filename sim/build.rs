//! Build script: compiles the commit and target into the program, for the stamp on every result.

use std::process::Command;

fn main() {
    // A path that does not exist would rebuild everything each time, as in a second work tree.
    for path in [".git/HEAD", ".git/refs/heads", "sim/build.rs"] {
        if std::path::Path::new(path).exists() {
            println!("cargo:rerun-if-changed={path}");
        }
    }
    let commit = Command::new("git")
        .args(["rev-parse", "--short=12", "HEAD"])
        .output()
        .ok()
        .filter(|output| output.status.success())
        .and_then(|output| String::from_utf8(output.stdout).ok())
        .map_or_else(|| "unknown".to_owned(), |text| text.trim().to_owned());
    println!("cargo:rustc-env=SHOALWISE_COMMIT={commit}");
    let target = std::env::var("TARGET").unwrap_or_else(|_| "unknown".to_owned());
    println!("cargo:rustc-env=SHOALWISE_TARGET={target}");
}
