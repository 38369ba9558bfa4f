//! The lock of a store: one process at a time may write, and all others can see which.

use std::fs::{File, TryLockError};
use std::io::{self, Read, Seek, Write};
use std::path::{Path, PathBuf};

/// The right to write a store. It ends with the process, even if the process crashes.
#[derive(Debug)]
pub(super) struct StoreLock {
    // A separate file, since SQLite's locks on the database file end when any other handle of it is closed.
    _file: File,
}

impl StoreLock {
    /// Takes the lock. The inner `Err` names the process that holds it.
    pub(super) fn take(store: &Path) -> io::Result<Result<Self, String>> {
        let mut file = File::options()
            .read(true)
            .write(true)
            .create(true)
            .truncate(false)
            .open(lock_path(store))?;
        match file.try_lock() {
            Ok(()) => {
                file.set_len(0)?;
                write!(file, "{}", std::process::id())?;
                Ok(Ok(Self { _file: file }))
            }
            Err(TryLockError::WouldBlock) => {
                let mut number = String::new();
                file.rewind()?;
                // The other process may be writing its number at this moment.
                let _ = file.read_to_string(&mut number);
                Ok(Err(format!("process {}", number.trim())))
            }
            Err(TryLockError::Error(error)) => Err(error),
        }
    }

    /// Whether a process holds the lock of a store.
    pub(super) fn is_held(store: &Path) -> bool {
        let file = File::open(lock_path(store));
        file.is_ok_and(|file| matches!(file.try_lock_shared(), Err(TryLockError::WouldBlock)))
    }
}

fn lock_path(store: &Path) -> PathBuf {
    let name = store.file_name().unwrap_or_default().to_string_lossy();
    store.with_file_name(format!(".{name}.lock"))
}
