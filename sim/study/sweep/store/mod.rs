//! The store of a sweep: a SQLite database of finished blocks that survives a crash at any time.
//!
//! A batch is one transaction under a rollback journal with `synchronous = EXTRA`: the file and its folder are on the
//! disk before a batch counts. A kill or a power cut therefore leaves all earlier batches intact. It must not know how
//! a sweep is run.

mod database;
mod error;
mod lock;
mod query;
mod schema;
mod write;

pub use database::{Store, StoreContent};
pub use error::StoreError;
