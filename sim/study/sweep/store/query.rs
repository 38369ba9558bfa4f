//! Reads finished blocks from a store.

use rusqlite::{OptionalExtension, params};

use super::database::Store;
use super::error::StoreError;
use super::json_text::json;
use super::row::StoredBlock;
use crate::angler::PlanId;
use crate::study::replicate::DayOutcomes;
use crate::study::sweep::block::{BlockRow, WorkUnit, days_g};

/// Weights of a plan at a point, in the order of the days.
const BLOCKS: &str =
    "SELECT weights_g FROM block WHERE point = ?1 AND plan = ?2 ORDER BY first_day";

impl Store {
    /// Sessions per second of the last run that fished any. `None` before the first.
    ///
    /// # Errors
    ///
    /// If the store cannot be read.
    pub fn sessions_per_s(&self) -> Result<Option<f64>, StoreError> {
        let last =
            "SELECT sessions / worked_s FROM run WHERE sessions > 0 ORDER BY run DESC LIMIT 1";
        let rate = self.database.query_row(last, [], |row| row.get(0)).optional();
        rate.map_err(|error| self.error(&error))
    }

    /// Sums of fish, casts and bait [mg] of a plan at a point.
    pub(in crate::study::sweep) fn counts(
        &self,
        point: usize,
        plan: PlanId,
    ) -> Result<[u64; 3], StoreError> {
        let sums = "SELECT total(fish), total(casts), total(bait_mg) FROM block \
                    WHERE point = ?1 AND plan = ?2";
        let mut sums = self.database.prepare_cached(sums).map_err(|error| self.error(&error))?;
        let counts = sums.query_row(params![self.points[point], plan.0], |row| {
            let sum = |column| Ok::<_, rusqlite::Error>(row.get::<_, f64>(column)? as u64);
            Ok([sum(0)?, sum(1)?, sum(2)?])
        });
        counts.map_err(|error| self.error(&error))
    }

    /// Delivers the weights of a plan at a point, block by block in the order of the days, as stored: four bytes per
    /// day, lowest byte first [g].
    pub(in crate::study::sweep) fn each_block(
        &self,
        point: usize,
        plan: PlanId,
        mut on_block: impl FnMut(&[u8]),
    ) -> Result<(), StoreError> {
        let to_error = |error| self.error(&error);
        let mut blocks = self.database.prepare_cached(BLOCKS).map_err(to_error)?;
        let mut rows = blocks.query(params![self.points[point], plan.0]).map_err(to_error)?;
        while let Some(row) = rows.next().map_err(to_error)? {
            let block = row.get_ref(0).and_then(|value| Ok(value.as_blob()?)).map_err(to_error)?;
            on_block(block);
        }
        Ok(())
    }

    /// Delivers the weights of a plan at two points, day by day [g].
    pub(in crate::study::sweep) fn each_pair(
        &self,
        points: [usize; 2],
        plan: PlanId,
        mut on_day: impl FnMut(u32, u32),
    ) -> Result<(), StoreError> {
        let to_error = |error| self.error(&error);
        let mut statements = [
            self.database.prepare(BLOCKS).map_err(to_error)?,
            self.database.prepare(BLOCKS).map_err(to_error)?,
        ];
        let mut cursors = [None, None];
        for ((cursor, blocks), point) in cursors.iter_mut().zip(&mut statements).zip(points) {
            *cursor = Some(blocks.query(params![self.points[point], plan.0]).map_err(to_error)?);
        }
        // The two may have blocks with different limits, so each side keeps the rest of its last block.
        let mut rest = [Vec::new(), Vec::new()];
        loop {
            for (cursor, rest) in cursors.iter_mut().zip(&mut rest) {
                if let (true, Some(rows)) = (rest.is_empty(), cursor.as_mut()) {
                    let Some(row) = rows.next().map_err(to_error)? else { return Ok(()) };
                    let block: Vec<u8> = row.get(0).map_err(to_error)?;
                    *rest = days_g(&block).collect();
                }
            }
            let days = rest[0].len().min(rest[1].len());
            let [a, b] = &mut rest;
            a.drain(..days).zip(b.drain(..days)).for_each(|(a_g, b_g)| on_day(a_g, b_g));
        }
    }

    /// All finished units of work, point by point.
    pub(in crate::study::sweep) fn units(&self) -> Result<Vec<WorkUnit>, StoreError> {
        let to_error = |error| self.error(&error);
        let blocks = "SELECT first_day, first_day + days - 1 FROM block \
                      WHERE point = ?1 AND plan = 0 ORDER BY first_day";
        let mut blocks = self.database.prepare(blocks).map_err(to_error)?;
        let mut units = Vec::new();
        for (point, number) in self.points.iter().enumerate() {
            let mut rows = blocks.query([number]).map_err(to_error)?;
            while let Some(row) = rows.next().map_err(to_error)? {
                let unit = || Ok(WorkUnit { point, from: row.get(0)?, to: row.get(1)? });
                units.push(unit().map_err(to_error)?);
            }
        }
        Ok(units)
    }

    /// Whether the store has exactly the values of a block.
    pub(in crate::study::sweep) fn holds(&self, row: &BlockRow) -> Result<bool, StoreError> {
        let block = "SELECT digest FROM block WHERE point = ?1 AND plan = ?2 AND first_day = ?3";
        let key = params![self.points[row.unit.point], row.plan.0, row.unit.from];
        let stored = self.database.query_row(block, key, |row| row.get::<_, Vec<u8>>(0)).optional();
        let stored = stored.map_err(|error| self.error(&error))?;
        let given = json(&self.sweep().design.points[row.unit.point]);
        let expected = self.digests.block(&given, &StoredBlock::from_fished(row));
        Ok(stored.is_some_and(|digest| digest == expected))
    }

    /// One day of a comparison, as it was fished.
    pub(in crate::study::sweep) fn day(&self, number: u32) -> Result<DayOutcomes, StoreError> {
        let to_error = |error| self.error(&error);
        let day = "SELECT fished FROM day WHERE day = ?1";
        let mut days = self.database.prepare_cached(day).map_err(to_error)?;
        let text: String = days.query_row([number], |row| row.get(0)).map_err(to_error)?;
        serde_json::from_str(&text).map_err(|_| StoreError::Damaged {
            path: self.path().to_owned(),
            what: format!("day {number}"),
        })
    }
}
