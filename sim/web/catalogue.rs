//! The scenarios that the page offers: those built into the program, and those of one folder.

use std::fs;
use std::path::{Path, PathBuf};

use super::error::ApiError;
#[cfg(feature = "program")]
use crate::scenario::Diagnostics;
use crate::scenario::ScenarioSource;

/// Maximum number of files of the folder that are offered.
const MAX_FILES: usize = 200;
/// Maximum length of a scenario's name [characters].
const MAX_NAME_CHARS: usize = 64;

/// Scenarios built into the program: name and text.
const BUILT_IN: &[(&str, &str)] = &[
    ("tern-bar", include_str!("../../scenarios/tern-bar.toml")),
    ("first-try", include_str!("../../scenarios/first-try.toml")),
    ("elbow-pool", include_str!("../../scenarios/elbow-pool.toml")),
    ("lantern-pool", include_str!("../../scenarios/lantern-pool.toml")),
    ("penny-pit", include_str!("../../scenarios/penny-pit.toml")),
    ("quern-pool-summer", include_str!("../../scenarios/quern-pool-summer.toml")),
    ("quern-pool-winter", include_str!("../../scenarios/quern-pool-winter.toml")),
    ("riddle-mere", include_str!("../../scenarios/riddle-mere.toml")),
    ("stair-pool", include_str!("../../scenarios/stair-pool.toml")),
    ("thimble-pool", include_str!("../../scenarios/thimble-pool.toml")),
    ("tinsel-pool", include_str!("../../scenarios/tinsel-pool.toml")),
    ("weathercock", include_str!("../../scenarios/weathercock.toml")),
];

/// Prefix of a name that means the built-in scenario even if the folder has one of the same name.
const BUILT_IN_PREFIX: &str = "built-in.";

/// The scenarios that the page offers, and which one it shows first.
#[derive(Clone, Debug)]
pub struct Catalogue {
    folder: Option<PathBuf>,
    /// The one named on the command line. It is always offered, whatever its name and however many others there are.
    first: Option<String>,
    /// Scenarios that come with the page and need no folder.
    sources: Vec<ScenarioSource>,
}

impl Catalogue {
    /// The built-in scenarios and those in `folder`; `first` is the name of the one shown first.
    #[must_use]
    pub fn new(folder: Option<PathBuf>, first: Option<String>) -> Self {
        Self { folder, first, sources: Vec::new() }
    }

    /// The built-in scenarios and these, of which the first is shown first.
    pub(super) fn from_sources(sources: Vec<ScenarioSource>) -> Self {
        let first = sources.first().map(|source| source.name.clone());
        Self { folder: None, first, sources }
    }

    /// Every scenario that is not built in, with its weigh-ins.
    #[cfg(feature = "program")]
    pub(super) fn own(&self) -> Result<Vec<ScenarioSource>, Diagnostics> {
        let (mut names, files) = (self.names(), self.files());
        names.retain(|name| files.iter().any(|(known, _)| known == name));
        let path =
            |name: &String| files.iter().find(|(known, _)| known == name).map(|(_, path)| path);
        let paths = names.iter().filter_map(path);
        paths.map(|path| ScenarioSource::open_confined(path)?.with_stored_weigh_ins(&[])).collect()
    }

    /// Names of all scenarios, the one shown first at the front.
    pub(super) fn names(&self) -> Vec<String> {
        let sources = self.sources.iter().map(|source| source.name.clone());
        let mut names: Vec<String> =
            sources.chain(self.files().into_iter().map(|(name, _)| name)).collect();
        for (name, _) in BUILT_IN {
            if !names.iter().any(|known| known == name) {
                names.push((*name).to_owned());
            }
        }
        let first = self.first.as_deref().unwrap_or(BUILT_IN[0].0);
        if let Some(index) = names.iter().position(|name| name == first) {
            names[..=index].rotate_right(1);
        }
        names
    }

    /// The text of a scenario; a file takes precedence over a built-in scenario of the same name.
    ///
    /// The name is looked up in the list of files and never becomes part of a path.
    pub(super) fn text(&self, name: &str) -> Result<ScenarioSource, ApiError> {
        if let Some(name) = name.strip_prefix(BUILT_IN_PREFIX) {
            return built_in(name)
                .ok_or_else(|| ApiError::not_found("no built-in scenario has that name"));
        }
        if let Some(source) = self.sources.iter().find(|source| source.name == name) {
            return Ok(source.clone());
        }
        if let Some((_, path)) = self.files().into_iter().find(|(known, _)| known == name) {
            return Ok(ScenarioSource::open_confined(&path)?);
        }
        built_in(name).ok_or_else(|| ApiError::not_found("no scenario has that name"))
    }

    /// Scenario files that are directly in the folder: name and path.
    fn files(&self) -> Vec<(String, PathBuf)> {
        let Some(folder) = self.folder.as_deref().and_then(|folder| fs::canonicalize(folder).ok())
        else {
            return Vec::new();
        };
        let entries = fs::read_dir(&folder).into_iter().flatten().filter_map(Result::ok);
        let mut paths: Vec<PathBuf> = entries.map(|entry| entry.path()).collect();
        paths.sort();
        let mut files: Vec<(String, PathBuf)> = paths
            .iter()
            .filter_map(|path| scenario_file(path, &folder))
            .filter(|(name, _)| Some(name) != self.first.as_ref())
            .take(MAX_FILES)
            .collect();
        if let Some(first) = &self.first {
            let path = folder.join(format!("{first}.toml"));
            if path.is_file() {
                files.push((first.clone(), path));
            }
        }
        files.sort();
        files
    }
}

/// The built-in scenario of this name.
fn built_in(name: &str) -> Option<ScenarioSource> {
    BUILT_IN
        .iter()
        .find(|(known, _)| *known == name)
        .map(|(_, text)| ScenarioSource::new(text, name))
}

/// Name and real path of a scenario file; `None` if it is no plain file of this folder, such as a link out of it.
fn scenario_file(path: &Path, folder: &Path) -> Option<(String, PathBuf)> {
    if path.extension()? != "toml" {
        return None;
    }
    let real = fs::canonicalize(path).ok()?;
    let name = path.file_stem()?.to_str()?.to_owned();
    let is_inside = real.parent() == Some(folder) && real.is_file();
    (is_inside && name.chars().count() <= MAX_NAME_CHARS).then_some((name, real))
}
