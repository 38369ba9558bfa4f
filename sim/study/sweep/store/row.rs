//! One row of the table of blocks, as it is stored.

use rusqlite::{Row, ToSql};

use crate::angler::PlanId;
use crate::study::sweep::block::{BlockRow, WorkUnit, days_g};

/// Columns of a block after its point, in the order of [`StoredBlock::read`].
pub(super) const BLOCK_COLUMNS: &str = "plan, first_day, days, weight_sum_g, weight_sum_g2, fish, bites, casts, \
                                        bait_mg, weights_g, digest";

/// One row of the table of blocks without its point.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct StoredBlock {
    pub(super) plan: PlanId,
    pub(super) first_day: u32,
    pub(super) days: u32,
    pub(super) weight_sum_g: i64,
    pub(super) weight_sum_g2: i64,
    pub(super) fish: u64,
    pub(super) bites: u64,
    pub(super) casts: u64,
    pub(super) bait_mg: u64,
    pub(super) weights_g: Vec<u8>,
    pub(super) digest: Vec<u8>,
}

impl StoredBlock {
    /// A block that was just fished, without its digest.
    pub(super) fn from_fished(row: &BlockRow) -> Self {
        let sum = |sum: i128| i64::try_from(sum).unwrap_or(i64::MAX);
        Self {
            plan: row.plan,
            first_day: row.unit.from,
            days: row.unit.days(),
            weight_sum_g: sum(row.moments_g.sum()),
            weight_sum_g2: sum(row.moments_g.sum_of_squares()),
            fish: row.fish,
            bites: row.bites,
            casts: row.casts,
            bait_mg: row.bait_mg,
            weights_g: row.weights_g.clone(),
            digest: Vec::new(),
        }
    }

    /// Reads the row from the columns that follow column `from`. It fails if a value has another kind than it should.
    pub(super) fn read(row: &Row<'_>, from: usize) -> rusqlite::Result<Self> {
        Ok(Self {
            plan: PlanId(row.get(from)?),
            first_day: row.get(from + 1)?,
            days: row.get(from + 2)?,
            weight_sum_g: row.get(from + 3)?,
            weight_sum_g2: row.get(from + 4)?,
            fish: row.get(from + 5)?,
            bites: row.get(from + 6)?,
            casts: row.get(from + 7)?,
            bait_mg: row.get(from + 8)?,
            weights_g: row.get(from + 9)?,
            digest: row.get(from + 10)?,
        })
    }

    /// Values for SQL, in the order of the columns.
    pub(super) fn values(&self) -> [&dyn ToSql; 11] {
        [
            &self.plan.0,
            &self.first_day,
            &self.days,
            &self.weight_sum_g,
            &self.weight_sum_g2,
            &self.fish,
            &self.bites,
            &self.casts,
            &self.bait_mg,
            &self.weights_g,
            &self.digest,
        ]
    }

    /// The days of the block at a point.
    pub(super) fn unit(&self, point: usize) -> WorkUnit {
        let to = self.first_day.saturating_add(self.days).saturating_sub(1);
        WorkUnit { point, from: self.first_day, to }
    }

    /// Whether the sums are those of the single days.
    pub(super) fn adds_up(&self) -> bool {
        let (mut sum_g, mut sum_g2) = (0_i64, 0_i64);
        for day_g in days_g(&self.weights_g).map(i64::from) {
            sum_g = sum_g.saturating_add(day_g);
            sum_g2 = sum_g2.saturating_add(day_g.saturating_mul(day_g));
        }
        self.days > 0
            && self.first_day > 0
            && self.weights_g.len() as u64 == 4 * u64::from(self.days)
            && (sum_g, sum_g2) == (self.weight_sum_g, self.weight_sum_g2)
    }
}
