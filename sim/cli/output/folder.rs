//! The output folder of a run, protected from being overwritten by another run.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use super::run_files::{RunFile, STAMP_FILE, STAMP_FORMAT};
use crate::cli::exit_status::ExitError;
use crate::study::{Stamp, Store, StoreContent};

/// Specification of a run. Two runs with the same specification write the same files.
#[derive(Clone, Debug, PartialEq)]
pub struct RunSpec {
    /// Command.
    pub command: &'static str,
    /// Version, commit, seed, scenario.
    pub stamp: Stamp,
    /// Plans fished, in order.
    pub plans: Vec<String>,
    /// Varied keys and further options that change the result, as written.
    pub result_options: Vec<String>,
    /// Days fished.
    pub days: u32,
}

/// Why a folder was refused or could not be written.
#[derive(Debug, thiserror::Error)]
pub enum FolderError {
    /// The folder holds something that this run must not replace.
    #[error(
        "{folder} holds {content}, and this run would replace it: choose another folder with --out, omit --out, or move \
         what is there"
    )]
    Occupied {
        /// The folder.
        folder: PathBuf,
        /// What it holds.
        content: String,
    },
    /// A file could not be written.
    #[error("cannot write {path}: {source}")]
    Disk {
        /// The file or folder.
        path: PathBuf,
        /// Error of the system.
        source: io::Error,
    },
}

impl From<FolderError> for ExitError {
    fn from(error: FolderError) -> Self {
        match error {
            FolderError::Occupied { .. } => Self::WrongInput(error.into()),
            FolderError::Disk { .. } => Self::Failed(error.into()),
        }
    }
}

/// A folder chosen for a run. Nothing is created on disk until a file is written.
#[derive(Debug)]
pub struct Folder {
    path: PathBuf,
    spec: RunSpec,
    /// Whether the run continues until its verdicts are clear.
    until_clear: bool,
    /// Whether this run created the folder.
    is_new: bool,
    /// Names of the files written so far.
    files: Vec<String>,
}

impl Folder {
    /// Chooses the folder: `out` if given, otherwise `output/<scenario>-<command>`.
    ///
    /// A folder with results of the same run, or of the same run on fewer days, is used again: the same days give the
    /// same results. A folder with any other results is never touched; without `out`, `-2`, `-3`, … is tried instead.
    ///
    /// # Errors
    ///
    /// [`FolderError::Occupied`] if `out` is not free.
    pub fn choose(out: Option<&Path>, spec: RunSpec) -> Result<Self, FolderError> {
        let content = |path: &Path| content(path, &spec, false);
        let (path, _) = free(out, &spec, content)?;
        Ok(Self::new(path, spec, false))
    }

    /// Chooses the folder for a run that continues until its verdicts are clear, with at least the specified days.
    ///
    /// It works like [`Folder::choose`]. In addition, a folder of the same run that also continued until it was clear
    /// is used again, since the number of days will be the same.
    ///
    /// # Errors
    ///
    /// [`FolderError::Occupied`] if `out` is not free.
    pub fn choose_until_clear(out: Option<&Path>, spec: RunSpec) -> Result<Self, FolderError> {
        let content = |path: &Path| content(path, &spec, true);
        let (path, _) = free(out, &spec, content)?;
        Ok(Self::new(path, spec, true))
    }

    /// Chooses the folder of a run that keeps a store; `store` examines the store in a folder. A folder with the store
    /// of the same run is used again, with all other files of that run.
    ///
    /// Also returns what each skipped folder holds.
    ///
    /// # Errors
    ///
    /// [`FolderError::Occupied`] if `out` is not free.
    pub fn choose_with_store(
        out: Option<&Path>,
        spec: RunSpec,
        store: impl Fn(&Path) -> StoreContent,
    ) -> Result<(Self, Vec<String>), FolderError> {
        let content = |path: &Path| match store(&path.join(Store::FILE)) {
            StoreContent::Nothing => content(path, &spec, false),
            // A damaged store is reported when it is opened.
            StoreContent::SameSweep | StoreContent::Damaged => None,
            StoreContent::Other(holds) => Some(holds),
        };
        let (path, skipped) = free(out, &spec, content)?;
        Ok((Self::new(path, spec, false), skipped))
    }

    fn new(path: PathBuf, spec: RunSpec, until_clear: bool) -> Self {
        Self { path, spec, until_clear, is_new: false, files: Vec::new() }
    }

    /// Path of the folder.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Files written so far by this run, in order.
    pub fn written_files(&self) -> impl Iterator<Item = PathBuf> {
        self.files.iter().map(|name| self.path.join(name))
    }

    /// Whether the folder holds the results of a completed run.
    #[must_use]
    pub fn has_results(&self) -> bool {
        self.path.join(STAMP_FILE).exists()
    }

    /// Starts a file under a temporary name; [`Folder::finish_file`] gives it its final `name`.
    ///
    /// # Errors
    ///
    /// [`FolderError::Disk`].
    ///
    /// # Panics
    ///
    /// If the file is not in the table of the files that runs write: another run could overwrite it.
    pub fn start_file(&mut self, name: &str) -> Result<fs::File, FolderError> {
        assert!(RunFile::named(name).is_some(), "{name} is not in the table of files");
        self.is_new |= !self.path.exists();
        fs::create_dir_all(&self.path).map_err(|source| self.error(&self.path, source))?;
        let path = self.unfinished(name);
        fs::File::create(&path).map_err(|source| self.error(&path, source))
    }

    /// Gives a started file its final name, and replaces any older file in one step.
    ///
    /// # Errors
    ///
    /// [`FolderError::Disk`].
    pub fn finish_file(&mut self, name: &str) -> Result<(), FolderError> {
        let path = self.path.join(name);
        fs::rename(self.unfinished(name), &path).map_err(|source| self.error(&path, source))?;
        self.files.push(name.to_owned());
        Ok(())
    }

    /// Removes a started file, and the folder too if this run created it and nothing else is in it.
    pub fn discard_file(&self, name: &str) {
        // A file that cannot be removed stays under a name that marks it as unfinished; nothing depends on it.
        let _ = fs::remove_file(self.unfinished(name));
        if self.is_new {
            let _ = fs::remove_dir(&self.path);
        }
    }

    /// Writes a whole file.
    ///
    /// # Errors
    ///
    /// [`FolderError::Disk`]; an older file is then unchanged.
    ///
    /// # Panics
    ///
    /// As [`Folder::start_file`].
    pub fn write(&mut self, name: &str, bytes: &[u8]) -> Result<(), FolderError> {
        let written = self.start_file(name).and_then(|mut file| {
            io::Write::write_all(&mut file, bytes)
                .map_err(|source| self.error(&self.path.join(name), source))
        });
        match written {
            Ok(()) => self.finish_file(name),
            Err(error) => {
                self.discard_file(name);
                Err(error)
            }
        }
    }

    /// Writes `stamp.json` with the specification of the run, its number of days and the formats of the files.
    ///
    /// # Errors
    ///
    /// [`FolderError::Disk`].
    pub fn write_stamp(&mut self, days: u32) -> Result<(), FolderError> {
        let mut stamp = identity(&self.spec);
        stamp["days"] = days.into();
        stamp["until_clear"] = self.until_clear.into();
        stamp["files"] = self
            .files
            .iter()
            .filter_map(|name| Some((name.clone(), RunFile::named(name)?.format?.into())))
            .collect::<serde_json::Map<String, Value>>()
            .into();
        let text = format!("{stamp:#}\n");
        self.write(STAMP_FILE, text.as_bytes())
    }

    fn unfinished(&self, name: &str) -> PathBuf {
        self.path.join(format!(".{name}.{}.unfinished", std::process::id()))
    }

    fn error(&self, path: &Path, source: io::Error) -> FolderError {
        FolderError::Disk { path: path.to_owned(), source }
    }
}

/// Path of a free folder: `out`, or else the first of `output/<scenario>-<command>`, `…-2`, `…-3`, … that is free; also
/// what each skipped folder holds. `content` returns what a folder holds that must not be replaced.
fn free(
    out: Option<&Path>,
    spec: &RunSpec,
    content: impl Fn(&Path) -> Option<String>,
) -> Result<(PathBuf, Vec<String>), FolderError> {
    if let Some(out) = out {
        let folder = out.to_owned();
        return match content(out) {
            None => Ok((folder, Vec::new())),
            Some(holds) => Err(FolderError::Occupied { folder, content: holds }),
        };
    }
    let name = format!("{}-{}", spec.stamp.scenario, spec.command);
    let mut path = Path::new("output").join(&name);
    let mut skipped = Vec::new();
    while let Some(holds) = content(&path) {
        skipped.push(format!("{} holds {holds}", path.display()));
        path = Path::new("output").join(format!("{name}-{}", skipped.len() + 1));
    }
    Ok((path, skipped))
}

/// Everything that decides the results of a run, except the number of days.
fn identity(spec: &RunSpec) -> Value {
    json!({
        "format": STAMP_FORMAT,
        "command": spec.command,
        "stamp": spec.stamp,
        "plans": spec.plans,
        "vary": spec.result_options,
    })
}

/// What a folder holds that a run must not replace. `None` if the folder is free.
fn content(folder: &Path, spec: &RunSpec, until_clear: bool) -> Option<String> {
    if folder.exists() && !folder.is_dir() {
        return Some("a file instead of a folder".to_owned());
    }
    let Ok(text) = fs::read_to_string(folder.join(STAMP_FILE)) else {
        let mut unstamped: Vec<_> = fs::read_dir(folder)
            .ok()?
            .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
            .filter(|name| RunFile::named(name).is_some())
            // A run that ended while it created its store leaves an empty one, which may be replaced.
            .filter(|name| name != Store::FILE || !Store::holds_nothing(&folder.join(name)))
            .collect();
        unstamped.sort();
        let first = unstamped.first()?;
        return Some(format!("a {first} without a stamp that says where it came from"));
    };
    let Ok(stamp) = serde_json::from_str::<Value>(&text) else {
        return Some("results with an unreadable stamp.json".to_owned());
    };
    let new = identity(spec);
    let other = new.as_object()?.iter().find(|&(key, value)| stamp.get(key) != Some(value));
    if let Some((key, _)) = other {
        return Some(format!("results of another run ({})", difference(key, &stamp, &new)));
    }
    if until_clear && stamp.get("until_clear") == Some(&Value::Bool(true)) {
        return None;
    }
    let days = stamp.get("days").and_then(Value::as_u64).unwrap_or(u64::MAX);
    (days > u64::from(spec.days)).then(|| format!("results of the same run on {days} days"))
}

/// Difference between two stamps under a key, in words.
fn difference(key: &str, old: &Value, new: &Value) -> String {
    let words = |key: &str, old: &Value, new: &Value| {
        let short = |value: &Value| match value {
            Value::String(text) => text.chars().take(12).collect(),
            other => other.to_string(),
        };
        format!("{key} {}, not {}", short(old), short(new))
    };
    let (old, new) = (&old[key], &new[key]);
    match new.as_object().and_then(|fields| {
        fields.iter().find(|&(field, value)| old.get(field.as_str()) != Some(value))
    }) {
        Some((field, value)) => words(field, &old[field.as_str()], value),
        None => words(key, old, new),
    }
}
