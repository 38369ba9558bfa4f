//! Why a store was not opened or written, and what an error of the database means.

use std::path::{Path, PathBuf};

use rusqlite::ErrorCode;

/// Why a store was not opened or written.
#[derive(Debug, thiserror::Error)]
pub enum StoreFault {
    /// The file is not a store, or is damaged.
    #[error(
        "{path} is not a readable store: {why}. Move it, or choose another folder with --out. If it is an incomplete \
         copy, copy it again"
    )]
    Foreign {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        why: String,
    },
    /// The file is the store of another sweep.
    #[error("{path} holds {holds}: choose another folder with --out, or run that sweep")]
    Other {
        /// The file.
        path: PathBuf,
        /// What it holds.
        holds: String,
    },
    /// Another process is using the store.
    #[error("{who} is using {path}: wait until it ends, or see its progress with --status")]
    Busy {
        /// The file.
        path: PathBuf,
        /// The process.
        who: String,
    },
    /// The disk is full.
    #[error(
        "the disk is full; all batches before this are kept in {path}. Free some space and run the same command \
         again: it continues from there"
    )]
    Full {
        /// The file.
        path: PathBuf,
    },
    /// The file cannot be read or written.
    #[error("cannot use {path}: {why}")]
    Disk {
        /// The file.
        path: PathBuf,
        /// Message of the system.
        why: String,
    },
}

/// Translates an error of the database of a store for the user.
pub(super) fn store_error(path: &Path, error: &rusqlite::Error) -> StoreFault {
    let path = path.to_owned();
    match error.sqlite_error_code() {
        Some(ErrorCode::DiskFull) => StoreFault::Full { path },
        Some(ErrorCode::NotADatabase) => {
            StoreFault::Foreign { path, why: "it is not a database".to_owned() }
        }
        Some(ErrorCode::DatabaseCorrupt) => {
            StoreFault::Foreign { path, why: "it is damaged or incomplete".to_owned() }
        }
        Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => {
            StoreFault::Busy { path, who: "another program".to_owned() }
        }
        _ => StoreFault::Disk { path, why: error.to_string() },
    }
}
