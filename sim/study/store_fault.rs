//! Why a store was not opened or not written, and what an error of the database means.

use std::path::{Path, PathBuf};

use rusqlite::ErrorCode;

/// Why a store was not opened or not written.
#[derive(Debug, thiserror::Error)]
pub enum StoreFault {
    /// Not a store, or one that is damaged.
    #[error(
        "{path} is no store that can be read: {why}. Move it away, or name another folder with --out; a copy that was \
         cut short is copied again"
    )]
    Foreign {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        why: String,
    },
    /// The store of another sweep.
    #[error("{path} holds {holds}: name another folder with --out, or ask for that sweep")]
    Other {
        /// The file.
        path: PathBuf,
        /// What it holds.
        holds: String,
    },
    /// Another process is at it.
    #[error("{who} is at work on {path}: wait for it, or ask how far it is with --status")]
    Busy {
        /// The file.
        path: PathBuf,
        /// Who.
        who: String,
    },
    /// No room on the disk.
    #[error(
        "the disk is full; all batches before this are kept in {path}. Make room and give the same command again: \
         it goes on from there"
    )]
    Full {
        /// The file.
        path: PathBuf,
    },
    /// The disk did not take or give it.
    #[error("cannot use {path}: {why}")]
    Disk {
        /// The file.
        path: PathBuf,
        /// What the system says.
        why: String,
    },
}

/// What an error of the database of a store means to the user.
pub(super) fn fault(path: &Path, why: &rusqlite::Error) -> StoreFault {
    let path = path.to_owned();
    let said = why.to_string();
    match why.sqlite_error_code() {
        Some(ErrorCode::DiskFull) => StoreFault::Full { path },
        Some(ErrorCode::NotADatabase) => {
            StoreFault::Foreign { path, why: "it is no database".to_owned() }
        }
        Some(ErrorCode::DatabaseCorrupt) => {
            StoreFault::Foreign { path, why: "it is damaged or cut short".to_owned() }
        }
        Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => {
            StoreFault::Busy { path, who: "another program".to_owned() }
        }
        _ => StoreFault::Disk { path, why: said },
    }
}
