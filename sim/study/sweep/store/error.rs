//! Why a store was not opened or written, and what an error of the database means.

use std::path::{Path, PathBuf};

use rusqlite::ErrorCode;

/// Why a store was not opened or written.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// The file is not a store of this version of the program.
    #[error(
        "{path} is not a readable store: {reason}. Move it, or choose another folder with --out"
    )]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        reason: String,
    },
    /// The file is a store, and something in it was changed since it was written.
    #[error(
        "{path} is damaged: {what}. Run the command that made it once more with --repair: it keeps every whole block and \
         fishes the others again. Or move it, or choose another folder with --out. If it is an incomplete copy, \
         copy it again"
    )]
    Damaged {
        /// The file.
        path: PathBuf,
        /// What is damaged: plans, settings and days, as far as they are known.
        what: String,
    },
    /// The file is the store of another sweep.
    #[error("{path} holds {content}: choose another folder with --out, or run that sweep")]
    OtherSweep {
        /// The file.
        path: PathBuf,
        /// The sweep that it holds, in words.
        content: String,
    },
    /// Another process is using the store.
    #[error("{process} is using {path}: wait until it ends, or see its progress with --status")]
    Locked {
        /// The file.
        path: PathBuf,
        /// The process.
        process: String,
    },
    /// The disk is full.
    #[error(
        "the disk is full; all batches before this are kept in {path}. Free some space and run the same command \
         again: it continues from there"
    )]
    DiskFull {
        /// The file.
        path: PathBuf,
    },
    /// The file cannot be read or written.
    #[error("cannot use {path}: {reason}")]
    Io {
        /// The file.
        path: PathBuf,
        /// Message of the system.
        reason: String,
    },
}

/// Translates an error of the database of a store for the user. What the database says itself is never shown.
pub(super) fn store_error(path: &Path, error: &rusqlite::Error) -> StoreError {
    let path = path.to_owned();
    let io = |reason: &str| StoreError::Io { path: path.clone(), reason: reason.to_owned() };
    match error.sqlite_error_code() {
        Some(ErrorCode::DiskFull) => StoreError::DiskFull { path },
        Some(ErrorCode::NotADatabase) => {
            StoreError::Unreadable { path, reason: "it is not a database".to_owned() }
        }
        Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => {
            StoreError::Locked { path, process: "another program".to_owned() }
        }
        Some(ErrorCode::ReadOnly | ErrorCode::PermissionDenied) => {
            io("it may not be written; check who owns the file and its folder")
        }
        Some(ErrorCode::CannotOpen) => {
            io("it cannot be opened; check that its folder exists and may be written")
        }
        Some(ErrorCode::SystemIoFailure) => io("the disk failed while it was read or written"),
        Some(ErrorCode::OutOfMemory) => io("there is not enough memory"),
        Some(ErrorCode::FileLockingProtocolFailed) => {
            io("this disk cannot lock files; choose a folder on a local disk with --out")
        }
        // Everything else is a value or a table that is not as it was written.
        _ => StoreError::Damaged { path, what: "its tables or values are not whole".to_owned() },
    }
}
