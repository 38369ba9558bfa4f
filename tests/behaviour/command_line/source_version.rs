//! The commit in stamps is that of the source, and of nothing that surrounds it.

use std::fs;
use std::path::Path;
use std::process::Command;

#[allow(dead_code, unreachable_pub)]
#[path = "../../../sim/build.rs"]
mod build;

use build::source_version;

fn git(folder: &Path, args: &[&str]) -> String {
    let output = Command::new("git")
        .current_dir(folder)
        .args(["-c", "user.name=A", "-c", "user.email=a@b.invalid"])
        .args(args)
        .output()
        .expect("git");
    assert!(output.status.success(), "{args:?}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).expect("text").trim().to_owned()
}

/// A repository with one commit; returns the first 12 digits of it.
fn repository(folder: &Path) -> String {
    fs::create_dir_all(folder.join("sim")).expect("a folder");
    fs::write(folder.join("sim/lib.rs"), "").expect("a file");
    fs::write(folder.join("Cargo.toml"), "").expect("a file");
    git(folder, &["init", "-q"]);
    git(folder, &["add", "."]);
    git(folder, &["commit", "-q", "-m", "first"]);
    git(folder, &["rev-parse", "HEAD"])[..12].to_owned()
}

#[test]
fn a_clone_a_work_tree_and_a_changed_source_are_told_apart() {
    let place = tempfile::tempdir().expect("a temporary folder");
    let folder = place.path().join("clone");
    let hash = repository(&folder);
    assert_eq!(source_version(&folder).commit(), hash);
    let tree = place.path().join("tree");
    git(&folder, &["worktree", "add", "-q", tree.to_str().expect("text")]);
    let version = source_version(&tree);
    assert_eq!(version.commit(), hash);
    let heads: Vec<_> = version.depends_on.iter().filter(|path| path.ends_with("HEAD")).collect();
    assert!(heads.len() == 2 && heads.iter().all(|path| path.is_file()), "{heads:?}");
    // A document is no source.
    fs::write(folder.join("notes.md"), "x").expect("a file");
    assert_eq!(source_version(&folder).commit(), hash);
    fs::write(folder.join("sim/lib.rs"), "// changed").expect("a file");
    assert_eq!(source_version(&folder).commit(), format!("{hash}-dirty"));
    assert_eq!(source_version(&tree).commit(), hash);
}

#[test]
fn an_archive_says_its_own_commit_and_not_that_of_the_repository_around_it() {
    let place = tempfile::tempdir().expect("a temporary folder");
    repository(place.path());
    let inner = place.path().join("vendor/package");
    fs::create_dir_all(inner.join("sim")).expect("a folder");
    assert_eq!(source_version(&inner).commit(), "unknown");
    fs::write(inner.join(".git_archival.txt"), "node: $Format:%H$\n").expect("a file");
    assert_eq!(source_version(&inner).commit(), "unknown");
    let digits = "0123456789abcdef0123456789abcdef01234567";
    fs::write(inner.join(".git_archival.txt"), format!("node: {digits}\n")).expect("a file");
    assert_eq!(source_version(&inner).commit(), "0123456789ab");
    let info = |dirty: &str| format!("{{\"git\": {{\"sha1\": \"f{}\"{dirty}}}}}", &digits[1..]);
    fs::write(inner.join(".cargo_vcs_info.json"), info("")).expect("a file");
    assert_eq!(source_version(&inner).commit(), "f123456789ab");
    fs::write(inner.join(".cargo_vcs_info.json"), info(", \"dirty\": true")).expect("a file");
    assert_eq!(source_version(&inner).commit(), "f123456789ab-dirty");
}

#[test]
fn an_archive_of_this_repository_has_its_commit_written_into_it() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let attributes = fs::read_to_string(root.join(".gitattributes")).expect("a file");
    assert!(attributes.contains(".git_archival.txt export-subst"));
    let text = fs::read_to_string(root.join(".git_archival.txt")).expect("a file");
    assert!(text.starts_with("node: "), "{text}");
}
