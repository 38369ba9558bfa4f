//! Repairs a damaged store: whole blocks are kept, all others are left out and can be fished again.

use std::collections::HashMap;
use std::path::{Path, PathBuf};

use rusqlite::Connection;

use super::database::{CREATE, EXISTING, Store, StoreContent, open_database};
use super::digest::BlockDigests;
use super::error::{StoreError, store_error};
use super::json_text::json;
use super::row::{BLOCK_COLUMNS, StoredBlock};
use super::schema;
use super::write::{INSERT_BLOCK, INSERT_DAY, insert_block};
use crate::scenario::system_fault;
use crate::study::sweep::definition::SweepDefinition;

/// Added to the name of a damaged store when a repaired one takes its place.
const DAMAGED: &str = "damaged";
/// Added to the name of a store while it is put together.
const UNFINISHED: &str = "unfinished";

/// What a repair did.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Repair {
    /// Number of blocks that were whole and are kept.
    pub kept: u64,
    /// Where the damaged file is now.
    pub damaged: PathBuf,
}

impl Store {
    /// Repairs the damaged store of a sweep: puts its whole blocks into a new store at the same path, and keeps the
    /// damaged file next to it. Opening the new store shows which days are missing. `None` if nothing is damaged.
    ///
    /// # Errors
    ///
    /// [`StoreError`], also if the file has no whole block of this sweep; it is then left as it is.
    pub fn repair(path: &Path, sweep: &SweepDefinition) -> Result<Option<Repair>, StoreError> {
        if Self::holds_nothing(path) {
            return Ok(None);
        }
        let _lock = Self::lock(path)?;
        let inspected = Self::inspect(path);
        if let StoreContent::Other(content) = Self::content(path, &inspected, sweep) {
            return Err(StoreError::OtherSweep { path: path.to_owned(), content });
        }
        match inspected.and_then(Self::undamaged) {
            Ok(_) => return Ok(None),
            Err(StoreError::Damaged { .. }) => {}
            Err(error) => return Err(error),
        }
        let to_disk_error = |error: std::io::Error| StoreError::Io {
            path: path.to_owned(),
            reason: system_fault(&error),
        };
        let repaired = with_ending(path, UNFINISHED);
        remove_if_there(&repaired).map_err(to_disk_error)?;
        let kept = copy_whole_blocks(path, &repaired, sweep)?;
        if kept == 0 {
            remove_if_there(&repaired).map_err(to_disk_error)?;
            return Err(StoreError::Unreadable {
                path: path.to_owned(),
                reason: "it is damaged, and has no whole block of this sweep".to_owned(),
            });
        }
        let damaged = with_ending(path, DAMAGED);
        // A journal belongs to the damaged file, and must not be applied to the new one.
        remove_if_there(&with_ending(path, "journal")).map_err(to_disk_error)?;
        std::fs::rename(path, &damaged).map_err(to_disk_error)?;
        std::fs::rename(&repaired, path).map_err(to_disk_error)?;
        Ok(Some(Repair { kept, damaged }))
    }
}

/// The path with `-` and an ending added to its name, as SQLite names its journals.
fn with_ending(path: &Path, ending: &str) -> PathBuf {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    path.with_file_name(format!("{name}-{ending}"))
}

fn remove_if_there(path: &Path) -> std::io::Result<()> {
    match std::fs::remove_file(path) {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => Err(error),
        _ => Ok(()),
    }
}

/// Copies all blocks and days of `sweep` that are whole from one database to a new one; returns the number of blocks.
fn copy_whole_blocks(from: &Path, to: &Path, sweep: &SweepDefinition) -> Result<u64, StoreError> {
    let to_error = |error| store_error(to, &error);
    let mut new = open_database(to, CREATE).map_err(to_error)?;
    let numbers = schema::write(&mut new, sweep).map_err(to_error)?;
    let points: HashMap<String, i64> = sweep.design.points.iter().map(json).zip(numbers).collect();
    let old = open_database(from, EXISTING);
    let old = old.map_err(|error| store_error(from, &error))?;
    let digests = BlockDigests::new(sweep);
    let transaction = new.transaction().map_err(to_error)?;
    let kept = copy_blocks(&old, &transaction, &digests, &points).map_err(to_error)?;
    if sweep.is_comparison() {
        copy_days(&old, &transaction, &digests).map_err(to_error)?;
    }
    transaction.commit().map_err(to_error)?;
    Ok(kept)
}

/// Copies whole blocks. Reading ends at the first row that cannot be reached; writing must succeed.
fn copy_blocks(
    old: &Connection,
    new: &Connection,
    digests: &BlockDigests,
    points: &HashMap<String, i64>,
) -> rusqlite::Result<u64> {
    let query = format!("SELECT point.given, {BLOCK_COLUMNS} FROM block JOIN point USING (point)");
    let Ok(mut blocks) = old.prepare(&query) else { return Ok(0) };
    let Ok(mut rows) = blocks.query([]) else { return Ok(0) };
    let mut insert = new.prepare(&INSERT_BLOCK.replacen("INSERT", "INSERT OR IGNORE", 1))?;
    let mut kept = 0;
    while let Ok(Some(row)) = rows.next() {
        let (Ok(given), Ok(block)) = (row.get::<_, String>(0), StoredBlock::read(row, 1)) else {
            continue;
        };
        let Some(&point) = points.get(&given) else { continue };
        if block.digest == digests.block(&given, &block) && block.adds_up() {
            insert_block(&mut insert, point, &block)?;
            kept += 1;
        }
    }
    Ok(kept)
}

/// Copies the days of a comparison whose digests are right.
fn copy_days(old: &Connection, new: &Connection, digests: &BlockDigests) -> rusqlite::Result<()> {
    let Ok(mut days) = old.prepare("SELECT day, fished, digest FROM day") else { return Ok(()) };
    let Ok(mut rows) = days.query([]) else { return Ok(()) };
    let mut insert = new.prepare(INSERT_DAY)?;
    while let Ok(Some(row)) = rows.next() {
        let (Ok(day), Ok(text)) = (row.get::<_, u32>(0), row.get::<_, String>(1)) else { continue };
        let digest = digests.day(day, &text);
        if row.get::<_, Vec<u8>>(2).is_ok_and(|stored| stored == digest) {
            insert.execute(rusqlite::params![day, text, digest])?;
        }
    }
    Ok(())
}
