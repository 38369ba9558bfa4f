//! The store of a sweep: a SQLite database of finished blocks that survives a crash at any time.
//!
//! A batch is one transaction under a rollback journal with `synchronous = EXTRA`: the file and its folder are on the
//! disk before a batch counts. A kill or a power cut therefore leaves all earlier batches intact. It must not know how
//! a sweep is run.
//!
//! Every block has a digest, and is verified whenever a store is opened; a damaged one is never used.

mod database;
mod digest;
mod error;
mod json_text;
mod lock;
mod query;
mod repair;
mod row;
mod schema;
mod verify;
mod write;

pub use database::{Store, StoreContent};
pub use error::StoreError;
pub use lock::open_lock_file;
pub use repair::Repair;
