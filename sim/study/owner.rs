//! Who works on a store: one process at a time, known to all others.

use std::fs::{File, TryLockError};
use std::io::{self, Read, Seek, Write};
use std::path::{Path, PathBuf};

/// The right to write a store; ends with the process, however that ends.
#[derive(Debug)]
pub(super) struct Owner {
    // A file of its own: locks of the database's library on its file would end when another handle is closed.
    _file: File,
}

impl Owner {
    /// Takes the right; the number of the process that has it, in words, where another has.
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
                // Whoever holds it may be writing its number just now.
                let _ = file.read_to_string(&mut number);
                Ok(Err(format!("process {}", number.trim())))
            }
            Err(TryLockError::Error(why)) => Err(why),
        }
    }

    /// Whether some process works on a store now.
    pub(super) fn is_at_work(store: &Path) -> bool {
        let file = File::open(lock_path(store));
        file.is_ok_and(|file| matches!(file.try_lock_shared(), Err(TryLockError::WouldBlock)))
    }
}

fn lock_path(store: &Path) -> PathBuf {
    let name = store.file_name().unwrap_or_default().to_string_lossy();
    store.with_file_name(format!(".{name}.lock"))
}
