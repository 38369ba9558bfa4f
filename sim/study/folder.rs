//! The folder in which a run leaves its files, and what keeps one run from destroying another's.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use super::stamp::Stamp;
use super::store::{Found, Store};

/// What was asked of a run: two runs that were asked the same leave the same files.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// The command.
    pub command: &'static str,
    /// Version, commit, seed, scenario.
    pub stamp: Stamp,
    /// The plans fished, in order.
    pub plans: Vec<String>,
    /// What was varied, as written.
    pub vary: Vec<String>,
    /// Days fished.
    pub days: u32,
}

/// Why a folder was not taken or not written.
#[derive(Debug, thiserror::Error)]
pub enum FolderFault {
    /// It holds something that this run must not replace.
    #[error(
        "{folder} holds {holds}, and this run would replace them: name another folder with --out, leave --out \
         away, or move them"
    )]
    Occupied {
        /// The folder.
        folder: PathBuf,
        /// What it holds.
        holds: String,
    },
    /// The disk did not take it.
    #[error("cannot write {path}: {source}")]
    Disk {
        /// The file or folder.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
}

/// Name of the file that says what a folder holds.
const STAMP_FILE: &str = "stamp.json";
/// Name and version of its format.
const STAMP_FORMAT: &str = "shoalwise/stamp/1";

/// A folder chosen for a run; nothing is made on disk until something is written.
#[derive(Debug)]
pub struct Folder {
    path: PathBuf,
    asked: Asked,
    /// Whether the run goes on until its verdicts are clear.
    until_clear: bool,
    /// Whether this run made it.
    made: bool,
    /// Files left so far, with the formats of those that have one.
    left: Vec<(String, Option<&'static str>)>,
}

impl Folder {
    /// Chooses the folder: `out` where one was named, else `output/<scenario>-<command>`.
    ///
    /// A folder that holds results of the same run, or of the same run on fewer days, is taken again: the
    /// same days come out the same. One that holds anything else of ours is never touched: by default
    /// `-2`, `-3`, … is tried instead.
    ///
    /// # Errors
    ///
    /// [`FolderFault::Occupied`] where the folder named is not free.
    pub fn choose(out: Option<&Path>, asked: Asked) -> Result<Self, FolderFault> {
        let held = |path: &Path| held(path, &asked, false);
        let (path, _) = free(out, &asked, held)?;
        Ok(Self::at(path, asked, false))
    }

    /// Chooses the folder for a run that goes on until its verdicts are clear, on `asked.days` at least.
    ///
    /// As [`Folder::choose`]; a folder of the same run that also went on until it was clear is taken again too: it
    /// comes out on the same days.
    ///
    /// # Errors
    ///
    /// [`FolderFault::Occupied`] where the folder named is not free.
    pub fn choose_until_clear(out: Option<&Path>, asked: Asked) -> Result<Self, FolderFault> {
        let held = |path: &Path| held(path, &asked, true);
        let (path, _) = free(out, &asked, held)?;
        Ok(Self::at(path, asked, true))
    }

    /// Chooses the folder of a run that keeps a store, where `store` says what stands at a folder's; a folder
    /// with the store of the same run is taken whatever else that run has left in it so far.
    ///
    /// Also says what is held by each folder that was passed over.
    ///
    /// # Errors
    ///
    /// [`FolderFault::Occupied`] where the folder named is not free.
    pub fn choose_with_store(
        out: Option<&Path>,
        asked: Asked,
        store: impl Fn(&Path) -> Found,
    ) -> Result<(Self, Vec<String>), FolderFault> {
        let held = |path: &Path| match store(&path.join(Store::FILE)) {
            Found::Nothing => held(path, &asked, false),
            Found::This => None,
            Found::Else(holds) => Some(holds),
        };
        let (path, passed) = free(out, &asked, held)?;
        Ok((Self::at(path, asked, false), passed))
    }

    fn at(path: PathBuf, asked: Asked, until_clear: bool) -> Self {
        Self { path, asked, until_clear, made: false, left: Vec::new() }
    }

    /// Where it is.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Files left in it so far by this run, in order.
    pub fn left(&self) -> impl Iterator<Item = PathBuf> {
        self.left.iter().map(|(name, _)| self.path.join(name))
    }

    /// Whether a run that came to an end has left its results here before.
    #[must_use]
    pub fn holds_results(&self) -> bool {
        self.path.join(STAMP_FILE).exists()
    }

    /// Starts a file under a name of its own; it becomes `name` only through [`Folder::keep`].
    ///
    /// # Errors
    ///
    /// [`FolderFault::Disk`].
    pub fn begin(&mut self, name: &str) -> Result<fs::File, FolderFault> {
        self.made |= !self.path.exists();
        fs::create_dir_all(&self.path).map_err(|source| self.fault(&self.path, source))?;
        let path = self.unfinished(name);
        fs::File::create(&path).map_err(|source| self.fault(&path, source))
    }

    /// Gives a file that was begun its name, replacing what was there in one step.
    ///
    /// # Errors
    ///
    /// [`FolderFault::Disk`].
    pub fn keep(&mut self, name: &str, format: Option<&'static str>) -> Result<(), FolderFault> {
        let path = self.path.join(name);
        fs::rename(self.unfinished(name), &path).map_err(|source| self.fault(&path, source))?;
        self.left.push((name.to_owned(), format));
        Ok(())
    }

    /// Drops a file that was begun, and the folder with it if this run made it and nothing else is in it.
    pub fn drop_unfinished(&self, name: &str) {
        // What cannot be removed is a leftover under a name that says so; nothing depends on it.
        let _ = fs::remove_file(self.unfinished(name));
        if self.made {
            let _ = fs::remove_dir(&self.path);
        }
    }

    /// Writes a whole file.
    ///
    /// # Errors
    ///
    /// [`FolderFault::Disk`]; what was there before is then still there.
    pub fn write(
        &mut self,
        name: &str,
        format: Option<&'static str>,
        bytes: &[u8],
    ) -> Result<(), FolderFault> {
        let written = self.begin(name).and_then(|mut file| {
            io::Write::write_all(&mut file, bytes)
                .map_err(|source| self.fault(&self.path.join(name), source))
        });
        match written {
            Ok(()) => self.keep(name, format),
            Err(fault) => {
                self.drop_unfinished(name);
                Err(fault)
            }
        }
    }

    /// Writes `stamp.json`, which says what was asked, on how many days, and which formats the files have.
    ///
    /// # Errors
    ///
    /// [`FolderFault::Disk`].
    pub fn write_stamp(&mut self, days: u32) -> Result<(), FolderFault> {
        let mut stamp = same_run(&self.asked);
        stamp["days"] = days.into();
        stamp["until_clear"] = self.until_clear.into();
        stamp["files"] = self
            .left
            .iter()
            .filter_map(|(name, format)| Some((name.clone(), (*format)?.into())))
            .collect::<serde_json::Map<String, Value>>()
            .into();
        let text = format!("{stamp:#}\n");
        self.write(STAMP_FILE, Some(STAMP_FORMAT), text.as_bytes())
    }

    fn unfinished(&self, name: &str) -> PathBuf {
        self.path.join(format!(".{name}.{}.unfinished", std::process::id()))
    }

    fn fault(&self, path: &Path, source: io::Error) -> FolderFault {
        FolderFault::Disk { path: path.to_owned(), source }
    }
}

/// `out`, or `output/<scenario>-<command>`, or the first of `-2`, `-3`, … that a run may take; and what is held by each
/// that was passed over.
fn free(
    out: Option<&Path>,
    asked: &Asked,
    held: impl Fn(&Path) -> Option<String>,
) -> Result<(PathBuf, Vec<String>), FolderFault> {
    if let Some(out) = out {
        let folder = out.to_owned();
        return match held(out) {
            None => Ok((folder, Vec::new())),
            Some(holds) => Err(FolderFault::Occupied { folder, holds }),
        };
    }
    let name = format!("{}-{}", asked.stamp.scenario, asked.command);
    let mut path = Path::new("output").join(&name);
    let mut passed = Vec::new();
    while let Some(holds) = held(&path) {
        passed.push(format!("{} holds {holds}", path.display()));
        path = Path::new("output").join(format!("{name}-{}", passed.len() + 1));
    }
    Ok((path, passed))
}

/// What runs must share to leave the same results, apart from the number of days.
fn same_run(asked: &Asked) -> Value {
    json!({
        "format": STAMP_FORMAT,
        "command": asked.command,
        "stamp": asked.stamp,
        "plans": asked.plans,
        "vary": asked.vary,
    })
}

/// Whether a run may leave a file of this name.
fn a_run_writes(name: &str) -> bool {
    let picture = name.ends_with(".svg") || name.ends_with(".png");
    let card = ["card.html", "card.pdf", "card.svg"].contains(&name);
    card || ["summary.json", "sessions.csv", "report.html", "vary.json", "vary.csv", STAMP_FILE]
        .contains(&name)
        || ["best.json", "best.csv", "doubt.json", "doubt.svg", "doubt.png"].contains(&name)
        || name == Store::FILE
        || (picture && (name.starts_with("weight-curve.") || name.starts_with("vary-")))
        || (picture && name.starts_with("best."))
}

/// What a folder holds that a run must not replace; none where it is free.
fn held(folder: &Path, asked: &Asked, until_clear: bool) -> Option<String> {
    if folder.exists() && !folder.is_dir() {
        return Some("no folder but a file of that name".to_owned());
    }
    let Ok(text) = fs::read_to_string(folder.join(STAMP_FILE)) else {
        let mut unstamped: Vec<_> = fs::read_dir(folder)
            .ok()?
            .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
            .filter(|name| a_run_writes(name))
            // A run that ended while it made its store left an empty one, which holds nothing to lose.
            .filter(|name| name != Store::FILE || !Store::holds_nothing(&folder.join(name)))
            .collect();
        unstamped.sort();
        let first = unstamped.first()?;
        return Some(format!("a {first} that does not say where it came from"));
    };
    let Ok(stamp) = serde_json::from_str::<Value>(&text) else {
        return Some("results whose stamp.json cannot be read".to_owned());
    };
    let here = same_run(asked);
    let other = here.as_object()?.iter().find(|&(key, value)| stamp.get(key) != Some(value));
    if let Some((key, _)) = other {
        return Some(format!("results of another run ({})", difference(key, &stamp, &here)));
    }
    if until_clear && stamp.get("until_clear") == Some(&Value::Bool(true)) {
        return None;
    }
    let days = stamp.get("days").and_then(Value::as_u64).unwrap_or(u64::MAX);
    (days > u64::from(asked.days)).then(|| format!("results of the same run on {days} days"))
}

/// Which part of two stamps differs, in words.
fn difference(key: &str, there: &Value, here: &Value) -> String {
    let part = |key: &str, there: &Value, here: &Value| {
        let shown = |value: &Value| match value {
            Value::String(text) => text.chars().take(12).collect(),
            other => other.to_string(),
        };
        format!("{key} {}, not {}", shown(there), shown(here))
    };
    let (there, here) = (&there[key], &here[key]);
    match here.as_object().and_then(|fields| {
        fields.iter().find(|&(field, value)| there.get(field.as_str()) != Some(value))
    }) {
        Some((field, value)) => part(field, &there[field.as_str()], value),
        None => part(key, there, here),
    }
}
