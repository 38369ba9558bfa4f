//! Why a store was not opened or written, and what an error of the database means.

use std::path::{Path, PathBuf};

use rusqlite::ErrorCode;

/// Why a store was not opened or written.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// The file is not a store, or is damaged.
    #[error(
        "{path} is not a readable store: {reason}. Move it, or choose another folder with --out. If it is an incomplete \
         copy, copy it again"
    )]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        reason: String,
    },
    /// The file is the store of another sweep.
    #[error("{path} holds {content}: choose another folder with --out, or run that sweep")]
    OtherSweep {
        /// The file.
        path: PathBuf,
        /// What it holds.
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

/// Translates an error of the database of a store for the user.
pub(super) fn store_error(path: &Path, error: &rusqlite::Error) -> StoreError {
    let path = path.to_owned();
    match error.sqlite_error_code() {
        Some(ErrorCode::DiskFull) => StoreError::DiskFull { path },
        Some(ErrorCode::NotADatabase) => {
            StoreError::Unreadable { path, reason: "it is not a database".to_owned() }
        }
        Some(ErrorCode::DatabaseCorrupt) => {
            StoreError::Unreadable { path, reason: "it is damaged or incomplete".to_owned() }
        }
        Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => {
            StoreError::Locked { path, process: "another program".to_owned() }
        }
        _ => StoreError::Io { path, reason: error.to_string() },
    }
}
