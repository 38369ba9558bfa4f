//! The lock of a store: one process at a time may write, and all others can see which.

use std::fs::{File, TryLockError};
use std::io::{self, Read, Seek, Write};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// Attempts to take a lock: somebody who only looks whether it is held holds it for a moment.
const ATTEMPTS: u32 = 5;
/// Time between two attempts to lock the store.
const PAUSE: Duration = Duration::from_millis(20);

/// The right to write a store. It ends with the process, even if the process crashes.
#[derive(Debug)]
pub(super) struct StoreLock {
    // A separate file, since SQLite's locks on the database file end when any other handle of it is closed.
    _file: File,
}

impl StoreLock {
    /// Takes the lock. The inner `Err` names the process that holds it.
    pub(super) fn take(store: &Path) -> io::Result<Result<Self, String>> {
        let mut file = open_lock_file(&lock_path(store))?;
        let mut attempts = (0..ATTEMPTS).map(|attempt| {
            if attempt > 0 {
                std::thread::sleep(PAUSE);
            }
            file.try_lock()
        });
        let last = attempts.find(|locked| !matches!(locked, Err(TryLockError::WouldBlock)));
        match last.unwrap_or(Err(TryLockError::WouldBlock)) {
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

/// Opens a file to be locked, and creates it if need be. A link in its place is not followed.
///
/// # Errors
///
/// Of the system; also if the path is a link.
pub fn open_lock_file(path: &Path) -> io::Result<File> {
    let mut options = File::options();
    options.read(true).write(true).create(true).truncate(false);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::custom_flags(&mut options, libc::O_NOFOLLOW);
    options.open(path)
}

fn lock_path(store: &Path) -> PathBuf {
    let name = store.file_name().unwrap_or_default().to_string_lossy();
    store.with_file_name(format!(".{name}.lock"))
}
