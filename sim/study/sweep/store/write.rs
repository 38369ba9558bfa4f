//! Writes finished blocks into a store, each batch in one transaction.

use std::time::{SystemTime, UNIX_EPOCH};

use rusqlite::{Statement, params};

use super::database::Store;
use super::error::StoreError;
use super::json_text::json;
use super::row::{BLOCK_COLUMNS, StoredBlock};
use crate::study::sweep::block::FinishedUnit;

pub(super) const INSERT_BLOCK: &str =
    "INSERT INTO block VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12)";
/// Inserts a day of a comparison. An earlier run may have left it without its block.
pub(super) const INSERT_DAY: &str = "INSERT OR REPLACE INTO day VALUES (?1, ?2, ?3)";

/// Inserts a block at the point of this number with a prepared [`INSERT_BLOCK`].
pub(super) fn insert_block(
    insert: &mut Statement<'_>,
    point: i64,
    block: &StoredBlock,
) -> rusqlite::Result<()> {
    insert.raw_bind_parameter(1, point)?;
    for (index, value) in block.values().into_iter().enumerate() {
        insert.raw_bind_parameter(index + 2, value)?;
    }
    insert.raw_execute().map(|_| ())
}

impl Store {
    /// Stores a batch completely or not at all.
    pub(in crate::study::sweep) fn keep(
        &mut self,
        finished: &[FinishedUnit],
        worked_s: f64,
        threads: usize,
    ) -> Result<(), StoreError> {
        self.insert(finished, worked_s, threads).map_err(|error| self.error(&error))?;
        for unit in finished.iter().filter_map(|unit| Some(unit.rows.first()?.unit)) {
            let done = &mut self.days.done[unit.point];
            *done = unit.to.max(*done);
            self.days.gaps.retain(|gap| *gap != unit);
        }
        Ok(())
    }

    fn insert(
        &mut self,
        finished: &[FinishedUnit],
        worked_s: f64,
        threads: usize,
    ) -> rusqlite::Result<()> {
        let transaction = self.database.transaction()?;
        // After a repair, blocks of some plans may still be there for days that others lack.
        for unit in finished.iter().filter_map(|unit| Some(unit.rows.first()?.unit)) {
            transaction
                .prepare_cached(
                    "DELETE FROM block WHERE point = ?1 AND first_day BETWEEN ?2 AND ?3",
                )?
                .execute(params![self.points[unit.point], unit.from, unit.to])?;
        }
        {
            let mut insert = transaction.prepare_cached(INSERT_BLOCK)?;
            for row in finished.iter().flat_map(|unit| &unit.rows) {
                let mut block = StoredBlock::from_fished(row);
                let given = json(&self.sweep.design.points[row.unit.point]);
                block.digest = self.digests.block(&given, &block).to_vec();
                insert_block(&mut insert, self.points[row.unit.point], &block)?;
            }
        }
        for day in finished.iter().flat_map(|unit| &unit.days) {
            let text = json(day);
            let digest = self.digests.day(day.number, &text);
            transaction.prepare_cached(INSERT_DAY)?.execute(params![day.number, text, digest])?;
        }
        let rows = finished.iter().flat_map(|unit| &unit.rows);
        let sessions: u64 = rows.map(|row| row.moments_g.n()).sum();
        if self.run.is_none() {
            let now = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |t| t.as_secs());
            transaction.execute(
                "INSERT INTO run (started_unix_s, process, threads, worked_s, sessions) VALUES (?1, ?2, ?3, 0, 0)",
                params![now, std::process::id(), threads],
            )?;
        }
        let run = self.run.unwrap_or_else(|| transaction.last_insert_rowid());
        transaction.execute(
            "UPDATE run SET worked_s = ?1, sessions = sessions + ?2 WHERE run = ?3",
            params![worked_s, sessions, run],
        )?;
        transaction.commit()?;
        self.run = Some(run);
        Ok(())
    }

    /// Replaces all blocks by those of other stores of the same sweep.
    pub(in crate::study::sweep) fn copy_blocks(&self, shares: &[Self]) -> Result<(), StoreError> {
        let to_error = |error| self.error(&error);
        let transaction = self.database.unchecked_transaction().map_err(to_error)?;
        // An earlier run may have ended half-way through.
        transaction.execute("DELETE FROM block", []).map_err(to_error)?;
        {
            // Points have different numbers in different stores, but the same values. Digests hold in all shares.
            let mut number = transaction
                .prepare("SELECT point FROM point WHERE given = ?1")
                .map_err(to_error)?;
            let mut insert = transaction.prepare(INSERT_BLOCK).map_err(to_error)?;
            for share in shares {
                let to_share_error = |error| share.error(&error);
                let mut blocks = share
                    .database
                    .prepare(&format!(
                        "SELECT point.given, {BLOCK_COLUMNS} FROM block JOIN point USING (point)"
                    ))
                    .map_err(to_share_error)?;
                let mut rows = blocks.query([]).map_err(to_share_error)?;
                while let Some(row) = rows.next().map_err(to_share_error)? {
                    let given: String = row.get(0).map_err(to_share_error)?;
                    let block = StoredBlock::read(row, 1).map_err(to_share_error)?;
                    let point = number.query_row([given], |row| row.get(0)).map_err(to_error)?;
                    insert_block(&mut insert, point, &block).map_err(to_error)?;
                }
            }
        }
        transaction
            .execute(
                "INSERT INTO run (started_unix_s, process, threads, worked_s, sessions) VALUES (0, ?1, 0, 0, 0)",
                params![std::process::id()],
            )
            .map_err(to_error)?;
        transaction.commit().map_err(to_error)
    }
}
