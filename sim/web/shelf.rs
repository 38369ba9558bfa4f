//! The scenarios that the page may show: those that come with the program, and those of one folder.

use std::fs;
use std::path::{Path, PathBuf};

use super::told::Wrong;
use crate::scenario::Written;

/// Most files of the folder that are shown.
const MOST_FILES: usize = 200;
/// Longest name of a scenario.
const LONGEST_NAME: usize = 64;

/// Scenarios that come with the program: name and text.
const SHIPPED: &[(&str, &str)] = &[
    ("hazel-mere", include_str!("../../scenarios/hazel-mere.toml")),
    ("hazel-mere-cold", include_str!("../../scenarios/hazel-mere-cold.toml")),
    ("first-try", include_str!("../../scenarios/first-try.toml")),
    ("reacting", include_str!("../../scenarios/reacting.toml")),
];

/// What stands before a name to mean the scenario that comes with the program, whatever the folder holds.
const BUILT_IN: &str = "built-in.";

/// Where scenarios are found.
#[derive(Clone, Debug)]
pub(super) struct Shelf {
    folder: Option<PathBuf>,
    first: Option<String>,
}

/// A scenario that comes with the program.
fn shipped(name: &str) -> Option<Written> {
    SHIPPED.iter().find(|(known, _)| *known == name).map(|(_, text)| Written::new(text, name))
}

impl Shelf {
    /// The scenarios of a folder, and which of all is shown first.
    pub(super) fn new(folder: Option<PathBuf>, first: Option<String>) -> Self {
        Self { folder, first }
    }

    /// Names of all scenarios, the one shown first at the front.
    pub(super) fn names(&self) -> Vec<String> {
        let mut names: Vec<String> = self.files().into_iter().map(|(name, _)| name).collect();
        for (name, _) in SHIPPED {
            if !names.iter().any(|known| known == name) {
                names.push((*name).to_owned());
            }
        }
        let first = self.first.as_deref().unwrap_or(SHIPPED[0].0);
        if let Some(at) = names.iter().position(|name| name == first) {
            names[..=at].rotate_right(1);
        }
        names
    }

    /// A scenario as it was written; a file goes before one of the same name that comes with the program.
    ///
    /// A name is looked up among those that were listed and never becomes part of a path.
    pub(super) fn written(&self, name: &str) -> Result<Written, Wrong> {
        if let Some(plain) = name.strip_prefix(BUILT_IN) {
            return shipped(plain)
                .ok_or_else(|| Wrong::missing("no such scenario comes with the program"));
        }
        if let Some((_, path)) = self.files().into_iter().find(|(known, _)| known == name) {
            return Ok(Written::open(&path)?.fenced());
        }
        shipped(name).ok_or_else(|| Wrong::missing("there is no scenario of that name"))
    }

    /// Scenario files that stand in the folder itself, by name.
    fn files(&self) -> Vec<(String, PathBuf)> {
        let Some(folder) = self.folder.as_deref().and_then(|folder| fs::canonicalize(folder).ok())
        else {
            return Vec::new();
        };
        let entries = fs::read_dir(&folder).into_iter().flatten().filter_map(Result::ok);
        let mut files: Vec<(String, PathBuf)> = entries
            .filter_map(|entry| scenario_at(&entry.path(), &folder))
            .take(MOST_FILES)
            .collect();
        files.sort();
        files
    }
}

/// A scenario's name and file, if it is a plain file of this very folder, not a way out of it.
fn scenario_at(path: &Path, folder: &Path) -> Option<(String, PathBuf)> {
    if path.extension()? != "toml" {
        return None;
    }
    let real = fs::canonicalize(path).ok()?;
    let name = path.file_stem()?.to_str()?.to_owned();
    let inside = real.parent() == Some(folder) && real.is_file();
    (inside && name.chars().count() <= LONGEST_NAME).then_some((name, real))
}
