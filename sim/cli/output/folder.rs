//! The output folder of a run, protected from being overwritten by another run.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::claim::Claim;
use super::folder_content::content;
use super::run_files::{AGAIN_FILE, RunFile, STAMP_FILE};
use super::run_origin::RunOrigin;
use super::run_spec::RunSpec;
use super::run_stamp::{RunIdentity, RunStamp};
use crate::cli::exit_status::ExitError;
use crate::scenario::{plain_name, system_problem};
use crate::study::{Store, StoreContent};

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
        /// What the folder holds, in words.
        content: String,
    },
    /// A file could not be written.
    #[error("cannot write {path}: {}", disk_fault(error))]
    Disk {
        /// The file or folder.
        path: PathBuf,
        /// Error of the system, which the message reports.
        error: io::Error,
    },
}

/// What the system reported, and what to do about it; another folder is chosen with `--out`.
fn disk_fault(error: &io::Error) -> String {
    let (problem, fix) = system_problem(error);
    let is_folder = fix.contains("choose") && fix.contains("folder");
    format!("{problem}; {fix}{}", if is_folder { " with --out" } else { "" })
}

impl From<FolderError> for ExitError {
    fn from(error: FolderError) -> Self {
        match error {
            FolderError::Occupied { .. } => Self::WrongInput(error.into()),
            FolderError::Disk { .. } => Self::Failed(error.into()),
        }
    }
}

/// A folder chosen for a run. No other run can choose it as long as this one lives.
///
/// If the run ends without a file, nothing of it remains on the disk. If it is cut short while it writes its files, the
/// folder is free for the same run, and for no other.
#[derive(Debug)]
pub struct Folder {
    path: PathBuf,
    spec: RunSpec,
    /// Whether the run continues until its verdicts are clear.
    until_clear: bool,
    /// Whether no file is written: `--out -`.
    is_nowhere: bool,
    /// The claim of this run. `None` for a run with a store, whose own lock protects the folder.
    claim: Option<Claim>,
    /// Whether this run created the folder.
    is_new: bool,
    /// Whether files that an earlier run left unfinished were removed.
    is_clean: bool,
    /// Names of the files written so far.
    files: Vec<String>,
}

impl Folder {
    /// Chooses the folder: `out` if given, otherwise `output/<scenario>-<command>`.
    ///
    /// A folder with results of the same run, or of the same run on fewer days, is used again: the same days give the
    /// same results. A folder with any other results is never touched; without `out`, `-2`, `-3`, … is tried instead.
    pub fn choose(out: Option<&Path>, spec: RunSpec) -> Result<Self, FolderError> {
        Self::claimed(out, spec, false)
    }

    /// Chooses the folder for a run that continues until its verdicts are clear, with at least the specified days.
    ///
    /// It works like [`Folder::choose`]. In addition, a folder of the same run that also continued until it was clear
    /// is used again, since the number of days will be the same.
    pub fn choose_until_clear(out: Option<&Path>, spec: RunSpec) -> Result<Self, FolderError> {
        Self::claimed(out, spec, true)
    }

    /// Chooses the folder of a run that keeps a store; `store` examines the store in a folder. A folder with the store
    /// of the same run is used again, with all other files of that run.
    ///
    /// Also returns what each skipped folder holds.
    pub fn choose_with_store(
        out: Option<&Path>,
        spec: RunSpec,
        store: impl Fn(&Path) -> StoreContent,
    ) -> Result<(Self, Vec<String>), FolderError> {
        let held = |path: &Path| match store(&path.join(Store::FILE)) {
            StoreContent::Nothing if Claim::is_held(path) => Some(IN_USE.to_owned()),
            StoreContent::Nothing => content(path, &spec, false),
            // A damaged store is reported when it is opened.
            StoreContent::SameSweep | StoreContent::Damaged => None,
            StoreContent::Other(holds) => Some(holds),
        };
        let (path, (), skipped) = free(out, &spec, |path| Ok(held(path).map_or(Ok(()), Err)))?;
        Ok((Self::new(path, spec, false), skipped))
    }

    /// Chooses a folder, and claims it in the same step.
    fn claimed(out: Option<&Path>, spec: RunSpec, until_clear: bool) -> Result<Self, FolderError> {
        if out == Some(Path::new("-")) {
            let mut folder = Self::new(PathBuf::new(), spec, until_clear);
            folder.is_nowhere = true;
            return Ok(folder);
        }
        let take = |path: &Path| {
            if let Some(holds) = content(path, &spec, until_clear) {
                return Ok(Err(holds));
            }
            let is_new = !path.exists();
            let to_error = |error| FolderError::Disk { path: path.to_owned(), error };
            let Some(claim) = Claim::take(path).map_err(to_error)? else {
                return Ok(Err(IN_USE.to_owned()));
            };
            // Another run may have finished in the meantime.
            match content(path, &spec, until_clear) {
                None => Ok(Ok((claim, is_new))),
                Some(holds) => Ok(Err(holds)),
            }
        };
        let (path, (claim, is_new), _) = free(out, &spec, take)?;
        let mut folder = Self::new(path, spec, until_clear);
        folder.is_new = is_new;
        let claim = folder.claim.insert(claim);
        let described = claim.describe(&RunIdentity::new(&folder.spec).to_json());
        described.map_err(|source| folder.error(&folder.path, source))?;
        Ok(folder)
    }

    fn new(path: PathBuf, spec: RunSpec, until_clear: bool) -> Self {
        let (claim, files) = (None, Vec::new());
        let (is_nowhere, is_new, is_clean) = (false, false, false);
        Self { path, spec, until_clear, is_nowhere, claim, is_new, is_clean, files }
    }

    /// How the run was asked for.
    pub fn origin(&self) -> &RunOrigin {
        &self.spec.origin
    }

    /// Path of the folder.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Files written so far by this run, in order.
    pub fn written_files(&self) -> impl Iterator<Item = PathBuf> {
        self.files.iter().map(|name| self.path.join(name))
    }

    /// Whether the folder holds the results of a completed run.
    pub fn has_results(&self) -> bool {
        !self.is_nowhere && self.path.join(STAMP_FILE).exists()
    }

    /// Whether no file is written, since the folder was given as `-`.
    pub fn is_nowhere(&self) -> bool {
        self.is_nowhere
    }

    /// Starts a file under a temporary name; [`Folder::finish_file`] gives it its final `name`.
    ///
    /// # Panics
    ///
    /// If the file is not in the table of the files that runs write: another run could overwrite it.
    pub fn start_file(&mut self, name: &str) -> Result<fs::File, FolderError> {
        assert!(RunFile::named(name).is_some(), "{name} is not in the table of files");
        self.is_new |= !self.path.exists();
        fs::create_dir_all(&self.path).map_err(|source| self.error(&self.path, source))?;
        if !self.is_clean {
            self.remove_leftovers();
            self.is_clean = true;
        }
        let path = self.unfinished(name);
        let file = fs::File::options().write(true).create_new(true).open(&path);
        file.map_err(|source| self.error(&path, source))
    }

    /// Path of a file that grows while the run is at work. It stays if the run is cut short, and the folder is then free for
    /// the same run.
    pub fn growing_file(&mut self, name: &str) -> Result<PathBuf, FolderError> {
        assert!(RunFile::named(name).is_some(), "{name} is not in the table of files");
        self.is_new |= !self.path.exists();
        fs::create_dir_all(&self.path).map_err(|source| self.error(&self.path, source))?;
        self.remove_older_stamp()?;
        self.files.push(name.to_owned());
        Ok(self.path.join(name))
    }

    /// Removes a growing file again.
    pub fn discard_growing_file(&mut self, name: &str) {
        // A file that cannot be removed is in nobody's way: its lines carry digests.
        let _ = fs::remove_file(self.path.join(name));
        self.files.retain(|file| file != name);
    }

    /// From the first file on, the folder no longer holds exactly what an older stamp describes.
    fn remove_older_stamp(&self) -> Result<(), FolderError> {
        let path = self.path.join(STAMP_FILE);
        match fs::remove_file(&path) {
            Err(source) if source.kind() != io::ErrorKind::NotFound => {
                Err(self.error(&path, source))
            }
            _ => Ok(()),
        }
    }

    /// Gives a started file its final name, and replaces any older file in one step.
    pub fn finish_file(&mut self, name: &str) -> Result<(), FolderError> {
        let path = self.path.join(name);
        if self.files.is_empty() && name != STAMP_FILE {
            self.remove_older_stamp()?;
        }
        fs::rename(self.unfinished(name), &path).map_err(|source| self.error(&path, source))?;
        self.files.push(name.to_owned());
        Ok(())
    }

    /// Removes a started file.
    pub fn discard_file(&self, name: &str) {
        // A file that cannot be removed stays under a name that marks it as unfinished; the next run removes it.
        let _ = fs::remove_file(self.unfinished(name));
    }

    /// Removes what runs that were killed left unfinished: no other run writes into the folder now.
    fn remove_leftovers(&self) {
        let entries = fs::read_dir(&self.path).into_iter().flatten().flatten();
        let leftovers = entries.filter(|entry| is_leftover(&entry.file_name().to_string_lossy()));
        for entry in leftovers {
            // What cannot be removed is in nobody's way.
            let _ = fs::remove_file(entry.path());
        }
    }

    /// Writes a whole file.
    ///
    /// # Errors
    ///
    /// [`FolderError::Disk`]; an older file is then unchanged.
    pub fn write(&mut self, name: &str, bytes: &[u8]) -> Result<(), FolderError> {
        if self.is_nowhere {
            return Ok(());
        }
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
    pub fn write_stamp(&mut self, days: u32) -> Result<(), FolderError> {
        if self.is_nowhere {
            return Ok(());
        }
        let formats = self
            .files
            .iter()
            .filter_map(|name| Some((name.clone(), RunFile::named(name)?.format?)))
            .collect();
        let text = RunStamp::new(&self.spec, days, self.until_clear, formats).to_text();
        if let Some(script) = self.spec.origin.again.clone() {
            self.write(AGAIN_FILE, script.as_bytes())?;
        }
        self.write(STAMP_FILE, text.as_bytes())?;
        self.claim = None;
        Ok(())
    }

    fn unfinished(&self, name: &str) -> PathBuf {
        self.path.join(format!(".{name}.{}.unfinished", std::process::id()))
    }

    fn error(&self, path: &Path, error: io::Error) -> FolderError {
        FolderError::Disk { path: path.to_owned(), error }
    }
}

impl Drop for Folder {
    /// Leaves nothing if no file was written, and otherwise the description of a run whose files are not complete.
    fn drop(&mut self) {
        if self.files.is_empty() {
            self.claim = None;
            if self.is_new {
                // It is only removed if it is empty.
                let _ = fs::remove_dir(&self.path);
            }
        } else if let Some(claim) = &mut self.claim {
            claim.keep_description();
        }
    }
}

/// What a folder holds that another run has claimed.
const IN_USE: &str = "results that another run is writing at this moment";

/// Whether a file has the name of one that a run left unfinished: `.<name>.<process>.unfinished`.
fn is_leftover(name: &str) -> bool {
    let name = name.strip_prefix('.').and_then(|name| name.strip_suffix(".unfinished"));
    name.and_then(|name| name.rsplit_once('.')).is_some_and(|(name, process)| {
        RunFile::named(name).is_some() && process.bytes().all(|byte| byte.is_ascii_digit())
    })
}

/// Path of a free folder: `out`, or else the first of `output/<scenario>-<command>`, `…-2`, `…-3`, … that is free; also
/// what `take` returned for it, and what each skipped folder holds. The inner error of `take` is what a folder holds that
/// must not be replaced.
fn free<T>(
    out: Option<&Path>,
    spec: &RunSpec,
    take: impl Fn(&Path) -> Result<Result<T, String>, FolderError>,
) -> Result<(PathBuf, T, Vec<String>), FolderError> {
    if let Some(out) = out {
        let folder = out.to_owned();
        return match take(out)? {
            Ok(taken) => Ok((folder, taken, Vec::new())),
            Err(content) => Err(FolderError::Occupied { folder, content }),
        };
    }
    let name = format!("{}-{}", plain_name(&spec.stamp.scenario), spec.command);
    let mut path = Path::new("output").join(&name);
    let mut skipped = Vec::new();
    loop {
        match take(&path)? {
            Ok(taken) => return Ok((path, taken, skipped)),
            Err(holds) => skipped.push(format!("{} holds {holds}", path.display())),
        }
        path = Path::new("output").join(format!("{name}-{}", skipped.len() + 1));
    }
}
