//! The scenarios that the page offers: those built into the program, and those of one folder.

use std::fs;
use std::path::{Path, PathBuf};

use super::error::ApiError;
use crate::scenario::{Diagnostics, LESSONS_ENDING, Lesson, ScenarioSource, read_lessons};

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

/// Lessons built into the program: name of the scenario and text.
const BUILT_IN_LESSONS: &[(&str, &str)] =
    &[("tern-bar", include_str!("../../scenarios/tern-bar.lessons.toml"))];

/// Prefix of a name that means the built-in scenario even if the folder has one of the same name.
const BUILT_IN_PREFIX: &str = "built-in.";

/// The scenarios that the page offers, and which one it shows first.
#[derive(Clone, Debug)]
pub struct Catalogue {
    folder: Option<PathBuf>,
    /// The one named on the command line. It is always offered, whatever its name and however many others there are.
    first: Option<String>,
    /// Scenarios that come with the page and need no folder, each with the text of its lessons.
    sources: Vec<(ScenarioSource, Option<String>)>,
}

impl Catalogue {
    /// The built-in scenarios and those in `folder`; `first` is the name of the one shown first.
    #[must_use]
    pub fn new(folder: Option<PathBuf>, first: Option<String>) -> Self {
        Self { folder, first, sources: Vec::new() }
    }

    /// The built-in scenarios and these, of which the first is shown first.
    pub(super) fn from_sources(sources: Vec<(ScenarioSource, Option<String>)>) -> Self {
        let first = sources.first().map(|(source, _)| source.name.clone());
        Self { folder: None, first, sources }
    }

    /// Every scenario that is not built in, with its weigh-ins and the text of its lessons.
    #[cfg(feature = "program")]
    pub(super) fn own(&self) -> Result<Vec<(ScenarioSource, Option<String>)>, Diagnostics> {
        let files = self.files();
        let mut names = self.names_among(&files);
        names.retain(|name| files.iter().any(|(known, _)| known == name));
        let path =
            |name: &String| files.iter().find(|(known, _)| known == name).map(|(_, path)| path);
        let paths = names.iter().filter_map(path);
        let opened = |path: &PathBuf| {
            let source = ScenarioSource::open_confined(path)?.with_stored_weigh_ins(&[])?;
            let lessons =
                lessons_file(path).map(|file| Ok(ScenarioSource::open_confined(&file)?.text));
            let lessons = lessons.transpose()?;
            if let Some(text) = &lessons {
                read_lessons(text, &shown_file(&source.name), &source)?;
            }
            Ok((source, lessons))
        };
        paths.map(opened).collect()
    }

    /// The lessons of every scenario that has some: those of the folder, then the built-in ones.
    pub(super) fn lessons(&self) -> Vec<(String, Result<Vec<Lesson>, Diagnostics>)> {
        let of_source = |(source, text): &(ScenarioSource, Option<String>)| {
            let text = text.as_deref()?;
            Some((source.name.clone(), read_lessons(text, &shown_file(&source.name), source)))
        };
        let of_file = |(name, path): &(String, PathBuf)| {
            let file = lessons_file(path)?;
            let read = || {
                let text = ScenarioSource::open_confined(&file)?.text;
                read_lessons(&text, &shown_file(name), &ScenarioSource::open_confined(path)?)
            };
            Some((name.clone(), read()))
        };
        let files = self.files();
        let own = self.sources.iter().filter_map(of_source);
        let mut lessons: Vec<_> = own.chain(files.iter().filter_map(of_file)).collect();
        for (name, text) in BUILT_IN_LESSONS {
            if !lessons.iter().any(|(known, _)| known == name)
                && let Some(source) = built_in(name)
            {
                let read = read_lessons(text, &shown_file(name), &source);
                lessons.push((format!("{BUILT_IN_PREFIX}{name}"), read));
            }
        }
        lessons
    }

    /// Names of all scenarios, the one shown first at the front; `files` are those of the folder.
    fn names_among(&self, files: &[(String, PathBuf)]) -> Vec<String> {
        let sources = self.sources.iter().map(|(source, _)| &source.name);
        let mut names: Vec<String> =
            sources.chain(files.iter().map(|(name, _)| name)).cloned().collect();
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

    /// Names and titles of all scenarios, the one shown first at the front.
    pub(super) fn titles(&self) -> Vec<(String, String)> {
        let files = self.files();
        let titled = |name: String| {
            let title = self.text_among(&name, &files).ok().and_then(|source| title_of(&source));
            (name.clone(), title.unwrap_or(name))
        };
        self.names_among(&files).into_iter().map(titled).collect()
    }

    /// The text of a scenario; a file takes precedence over a built-in scenario of the same name.
    ///
    /// The name is looked up in the list of files and never becomes part of a path.
    pub(super) fn text(&self, name: &str) -> Result<ScenarioSource, ApiError> {
        self.text_among(name, &self.files())
    }

    fn text_among(
        &self,
        name: &str,
        files: &[(String, PathBuf)],
    ) -> Result<ScenarioSource, ApiError> {
        if let Some(name) = name.strip_prefix(BUILT_IN_PREFIX) {
            return built_in(name)
                .ok_or_else(|| ApiError::not_found("no built-in scenario has that name"));
        }
        if let Some((source, _)) = self.sources.iter().find(|(source, _)| source.name == name) {
            return Ok(source.clone());
        }
        if let Some((_, path)) = files.iter().find(|(known, _)| known == name) {
            return Ok(ScenarioSource::open_confined(path)?);
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

/// The title that a scenario gives itself; `None` if it has none or is no TOML.
fn title_of(source: &ScenarioSource) -> Option<String> {
    let table: toml::Table = source.text.parse().ok()?;
    Some(table.get("title")?.as_str()?.to_owned())
}

/// The built-in scenario of this name.
fn built_in(name: &str) -> Option<ScenarioSource> {
    BUILT_IN
        .iter()
        .find(|(known, _)| *known == name)
        .map(|(_, text)| ScenarioSource::new(text, name))
}

/// The file of lessons next to a scenario file. `None` if there is no plain file of that name in its folder.
fn lessons_file(path: &Path) -> Option<PathBuf> {
    let file = fs::canonicalize(path.with_extension(&LESSONS_ENDING[1..])).ok()?;
    (file.parent() == path.parent() && file.is_file()).then_some(file)
}

/// The name of a file of lessons, as it stands in faults.
fn shown_file(scenario: &str) -> String {
    format!("{scenario}{LESSONS_ENDING}")
}

/// Name and real path of a scenario file; `None` if it is no plain file of this folder, such as a link out of it.
fn scenario_file(path: &Path, folder: &Path) -> Option<(String, PathBuf)> {
    if path.extension()? != "toml" || path.to_str()?.ends_with(LESSONS_ENDING) {
        return None;
    }
    let real = fs::canonicalize(path).ok()?;
    let name = path.file_stem()?.to_str()?.to_owned();
    let is_inside = real.parent() == Some(folder) && real.is_file();
    (is_inside && name.chars().count() <= MAX_NAME_CHARS).then_some((name, real))
}
