//! Writes finished blocks into a store, each batch in one transaction.

use std::time::{SystemTime, UNIX_EPOCH};

use rusqlite::types::ToSqlOutput;
use rusqlite::{params, params_from_iter};

use super::database::Store;
use super::error::StoreError;
use crate::study::sweep::block::FinishedUnit;

/// Columns of a block after its point and plan, in the order of the table.
const COLUMNS: &str =
    "first_day, days, weight_sum_g, weight_sum_g2, fish, bites, casts, bait_mg, weights_g";

impl Store {
    /// Stores a batch completely or not at all.
    pub(in crate::study::sweep) fn keep(
        &mut self,
        finished: &[FinishedUnit],
        worked_s: f64,
        threads: usize,
    ) -> Result<(), StoreError> {
        self.insert(finished, worked_s, threads).map_err(|error| self.error(&error))?;
        for row in finished.iter().flat_map(|unit| &unit.rows) {
            self.done[row.unit.point] = row.unit.to;
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
        {
            let mut insert = transaction.prepare_cached(&format!(
                "INSERT INTO block (point, plan, {COLUMNS}) \
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)"
            ))?;
            for row in finished.iter().flat_map(|unit| &unit.rows) {
                let sum = |sum: i128| i64::try_from(sum).unwrap_or(i64::MAX);
                insert.execute(params![
                    self.points[row.unit.point],
                    row.plan,
                    row.unit.from,
                    row.moments_g.n(),
                    sum(row.moments_g.sum()),
                    sum(row.moments_g.sum_of_squares()),
                    row.fish,
                    row.bites,
                    row.casts,
                    row.bait_mg,
                    row.weights_g,
                ])?;
            }
        }
        for day in finished.iter().flat_map(|unit| &unit.days) {
            let text = serde_json::to_string(day).expect("a day can be written as JSON");
            transaction
                .prepare_cached("INSERT INTO day VALUES (?1, ?2)")?
                .execute(params![day.number, text])?;
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
            // Points have different numbers in different stores, but the same values.
            let mut insert = transaction
                .prepare(
                    "INSERT INTO block SELECT (SELECT point FROM point WHERE given = ?1), ?2, ?3, ?4, ?5, ?6, ?7, ?8, \
                     ?9, ?10, ?11",
                )
                .map_err(to_error)?;
            for share in shares {
                let to_share_error = |error| share.error(&error);
                let mut blocks = share
                    .database
                    .prepare(&format!(
                        "SELECT point.given, plan, {COLUMNS} FROM block JOIN point USING (point)"
                    ))
                    .map_err(to_share_error)?;
                let mut rows = blocks.query([]).map_err(to_share_error)?;
                while let Some(row) = rows.next().map_err(to_share_error)? {
                    let columns = (0..11).map(|column| row.get_ref(column));
                    let columns = columns.collect::<Result<Vec<_>, _>>().map_err(to_share_error)?;
                    let columns = columns.into_iter().map(ToSqlOutput::Borrowed);
                    insert.execute(params_from_iter(columns)).map_err(to_error)?;
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
