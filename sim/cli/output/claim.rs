//! The claim of a run on its folder: a file that is locked as long as the run lives, and that describes the run.
//!
//! The lock ends with the process, even if it is killed. The description remains if the process ended while it wrote
//! its files; so the same run can go on, and another one does not replace what is there.

use std::fs::{self, File, TryLockError};
use std::io::{self, Seek, Write};
use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::study::open_lock_file;

/// Name of the file.
const CLAIM_FILE: &str = ".unfinished.json";

/// The right to write into a folder.
#[derive(Debug)]
pub(super) struct Claim {
    path: PathBuf,
    file: File,
    /// Whether the description remains when the claim ends.
    is_kept: bool,
}

impl Claim {
    /// Claims a folder, and creates it if need be. `None` if another process holds it.
    pub(super) fn take(folder: &Path) -> io::Result<Option<Self>> {
        let path = folder.join(CLAIM_FILE);
        loop {
            fs::create_dir_all(folder)?;
            let file = match open_lock_file(&path) {
                // Another run that wrote nothing has just removed its folder.
                Err(error) if error.kind() == io::ErrorKind::NotFound => continue,
                file => file?,
            };
            match file.try_lock() {
                // The file may have been removed by its last owner before it was locked here.
                Ok(()) if is_at(&file, &path) => {
                    return Ok(Some(Self { path, file, is_kept: true }));
                }
                Ok(()) => {}
                Err(TryLockError::WouldBlock) => return Ok(None),
                Err(TryLockError::Error(error)) => return Err(error),
            }
        }
    }

    /// Whether a process holds the claim on a folder.
    pub(super) fn is_held(folder: &Path) -> bool {
        let file = File::open(folder.join(CLAIM_FILE));
        file.is_ok_and(|file| matches!(file.try_lock_shared(), Err(TryLockError::WouldBlock)))
    }

    /// The description of the run that last claimed a folder and did not finish.
    pub(super) fn identity(folder: &Path) -> Option<Value> {
        serde_json::from_str(&fs::read_to_string(folder.join(CLAIM_FILE)).ok()?).ok()
    }

    /// Writes the description of the run into the file that claims the folder, so that the same run may go on after it was
    /// cut short.
    pub(super) fn describe(&mut self, identity: &Value) -> io::Result<()> {
        self.is_kept = false;
        let words = identity.to_string();
        if fs::read_to_string(&self.path).is_ok_and(|text| text == words) {
            return Ok(());
        }
        self.file.set_len(0)?;
        self.file.rewind()?;
        write!(self.file, "{identity}")?;
        self.file.sync_all()
    }

    /// Keeps the description when the claim ends, since the files are not complete.
    pub(super) fn keep_description(&mut self) {
        self.is_kept = true;
    }
}

impl Drop for Claim {
    fn drop(&mut self) {
        let is_empty = self.file.metadata().is_ok_and(|about| about.len() == 0);
        if !self.is_kept || is_empty {
            // A description that cannot be removed is in nobody's way once there is a stamp.
            let _ = fs::remove_file(&self.path);
        }
    }
}

/// Whether an open file is still the one at its path.
fn is_at(file: &File, path: &Path) -> bool {
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt;
        let identity = |about: &fs::Metadata| (about.dev(), about.ino());
        match (file.metadata(), fs::metadata(path)) {
            (Ok(open), Ok(named)) => identity(&open) == identity(&named),
            _ => false,
        }
    }
    #[cfg(not(unix))]
    {
        // A file that is open cannot be removed.
        let _ = file;
        path.exists()
    }
}
