//! Compares the result files of finished sweeps.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// The result files of a finished sweep that do not depend on how it was reached; the store is not one of them.
fn export(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry"));
    let files = entries.filter_map(|entry| {
        let name = entry.file_name().to_string_lossy().into_owned();
        let is_result =
            !name.starts_with('.') && !name.starts_with("sweep.db") && name != "again.sh";
        is_result.then(|| (name, fs::read(entry.path()).expect("a file")))
    });
    let files: BTreeMap<_, _> = files.collect();
    for name in ["vary.csv", "vary.json", "stamp.json"] {
        assert!(files.contains_key(name), "{name} is missing in {}", folder.display());
    }
    files
}

/// Fails unless two finished sweeps wrote the same bytes.
#[track_caller]
pub(super) fn same_bytes(one: &Path, other: &Path) {
    let (one, other) = (export(one), export(other));
    assert_eq!(one.keys().collect::<Vec<_>>(), other.keys().collect::<Vec<_>>());
    for (name, bytes) in one {
        assert!(other[&name] == bytes, "{name} differs");
    }
}
