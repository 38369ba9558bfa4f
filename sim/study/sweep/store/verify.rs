//! Verifies every block of a store against its digest and its sums, and finds how far each point is.

use std::collections::{HashMap, HashSet};

use rusqlite::Row;

use super::digest::BlockDigests;
use super::json_text::json;
use super::row::{BLOCK_COLUMNS, StoredBlock};
use crate::study::sweep::block::{BLOCK_DAYS, WorkUnit};
use crate::study::sweep::definition::SweepDefinition;

/// Number of damaged blocks that a message names; the others are counted.
const MAX_NAMED: usize = 5;

/// What a store holds.
#[derive(Clone, Debug, Default)]
pub(super) struct VerifiedDays {
    /// Last day done at each point, in the order of the design.
    pub(super) done: Vec<u32>,
    /// Missing days before the last stored day.
    pub(super) gaps: Vec<WorkUnit>,
    /// Why values must not be used, in words.
    pub(super) damage: Damage,
}

/// Damaged blocks and days: the first ones in words, and the number of all.
#[derive(Clone, Debug, Default)]
pub(super) struct Damage {
    named: Vec<String>,
    count: usize,
}

impl Damage {
    pub(super) fn add(&mut self, what: impl FnOnce() -> String) {
        self.count += 1;
        if self.named.len() < MAX_NAMED {
            self.named.push(what());
        }
    }

    /// All damage in words. `None` if there is none.
    pub(super) fn in_words(&self) -> Option<String> {
        let more = match self.count - self.named.len() {
            0 => String::new(),
            more => format!("; and {more} more"),
        };
        (self.count > 0).then(|| format!("{}{more}", self.named.join("; ")))
    }
}

/// Finds the point of each row, and what the digests of its blocks depend on.
pub(super) struct Verifier<'a> {
    sweep: &'a SweepDefinition,
    digests: &'a BlockDigests,
    /// Index of each point in the design by its number in the database.
    points: HashMap<i64, usize>,
}

impl<'a> Verifier<'a> {
    /// For a store whose points have these numbers, in the order of the design.
    pub(super) fn new(
        sweep: &'a SweepDefinition,
        digests: &'a BlockDigests,
        numbers: &[i64],
    ) -> Self {
        let points = numbers.iter().enumerate().map(|(index, number)| (*number, index)).collect();
        Self { sweep, digests, points }
    }

    /// Verifies all blocks and days.
    pub(super) fn verify(&self, database: &rusqlite::Connection) -> rusqlite::Result<VerifiedDays> {
        let mut verified =
            VerifiedDays { done: vec![0; self.sweep.design.points.len()], ..Default::default() };
        let whole_days = match self.sweep.is_comparison() {
            true => Some(self.whole_days(database, &mut verified.damage)?),
            false => None,
        };
        let mut blocks = database.prepare(&format!(
            "SELECT point, {BLOCK_COLUMNS} FROM block ORDER BY point, plan, first_day"
        ))?;
        let mut rows = blocks.query([])?;
        let mut current = PointDays::default();
        let mut given = String::new();
        while let Some(row) = rows.next()? {
            let Some((point, block)) = self.placed(row) else {
                verified.damage.add(|| "a block with unreadable values".to_owned());
                continue;
            };
            if current.point != Some(point) {
                self.finish(&current, whole_days.as_ref(), &mut verified);
                given = json(&self.sweep.design.points[point]);
                current = PointDays::new(point, self.sweep.plans.len());
            }
            if block.digest == self.digests.block(&given, &block) && block.adds_up() {
                let unit = block.unit(point);
                current.days[block.plan.0].push((unit.from, unit.to));
            } else {
                verified.damage.add(|| self.block_in_words(point, &block));
            }
        }
        self.finish(&current, whole_days.as_ref(), &mut verified);
        Ok(verified)
    }

    /// A row with the index of its point. `None` if it cannot be read, or has no such point or plan.
    fn placed(&self, row: &Row<'_>) -> Option<(usize, StoredBlock)> {
        let point = *self.points.get(&row.get(0).ok()?)?;
        let block = StoredBlock::read(row, 1).ok()?;
        (block.plan.0 < self.sweep.plans.len()).then_some((point, block))
    }

    fn block_in_words(&self, point: usize, block: &StoredBlock) -> String {
        let design = &self.sweep.design;
        let values = design.keys.iter().zip(&design.points[point]);
        let values: Vec<String> = values.map(|(key, value)| format!("{key}={value}")).collect();
        let at =
            if values.is_empty() { String::new() } else { format!(" at {}", values.join(", ")) };
        let unit = block.unit(point);
        format!("{}{at}, days {} to {}", self.sweep.plans[block.plan.0], unit.from, unit.to)
    }

    /// Numbers of the days of a comparison whose digest is right.
    fn whole_days(
        &self,
        database: &rusqlite::Connection,
        damage: &mut Damage,
    ) -> rusqlite::Result<HashSet<u32>> {
        let mut days = database.prepare("SELECT day, fished, digest FROM day ORDER BY day")?;
        let mut rows = days.query([])?;
        let mut whole = HashSet::new();
        while let Some(row) = rows.next()? {
            let read = || {
                Ok::<_, rusqlite::Error>((
                    row.get::<_, u32>(0)?,
                    row.get::<_, String>(1)?,
                    row.get::<_, Vec<u8>>(2)?,
                ))
            };
            match read() {
                Ok((day, text, digest)) if digest == self.digests.day(day, &text) => {
                    whole.insert(day);
                }
                Ok((day, ..)) => damage.add(|| format!("day {day}")),
                Err(_) => damage.add(|| "a day with unreadable values".to_owned()),
            }
        }
        Ok(whole)
    }

    /// Adds what was verified at one point.
    fn finish(
        &self,
        current: &PointDays,
        whole_days: Option<&HashSet<u32>>,
        verified: &mut VerifiedDays,
    ) {
        let Some(point) = current.point else { return };
        let mut ranges = current.in_all_plans();
        if let Some(whole) = whole_days {
            ranges.retain(|&(from, to)| (from..=to).all(|day| whole.contains(&day)));
        }
        let until = ranges.last().map_or(0, |&(_, to)| to);
        verified.done[point] = until;
        if !self.add_gaps(point, until, &ranges, &mut verified.gaps) {
            verified.damage.add(|| {
                format!("days of point {} that are there twice or belong elsewhere", point + 1)
            });
        }
    }

    /// Adds the days of this share up to `until` that are not in `ranges`. False if a range lies outside the share or
    /// overlaps another.
    fn add_gaps(
        &self,
        point: usize,
        until: u32,
        ranges: &[(u32, u32)],
        gaps: &mut Vec<WorkUnit>,
    ) -> bool {
        let mut ranges = ranges.iter().copied().peekable();
        for block in 0..until.div_ceil(BLOCK_DAYS) {
            if !self.sweep.shard.includes(self.sweep.block_index(block, point)) {
                continue;
            }
            let mut next = block * BLOCK_DAYS + 1;
            let last = until.min((block + 1).saturating_mul(BLOCK_DAYS));
            while let Some((from, to)) = ranges.next_if(|&(from, _)| from <= last) {
                if from < next || to > last {
                    return false;
                }
                if from > next {
                    gaps.push(WorkUnit { point, from: next, to: from - 1 });
                }
                next = to + 1;
            }
            if next <= last {
                gaps.push(WorkUnit { point, from: next, to: last });
            }
        }
        ranges.next().is_none()
    }
}

/// First and last days of the whole blocks of one point, for each plan.
#[derive(Default)]
struct PointDays {
    point: Option<usize>,
    days: Vec<Vec<(u32, u32)>>,
}

impl PointDays {
    fn new(point: usize, plans: usize) -> Self {
        Self { point: Some(point), days: vec![Vec::new(); plans] }
    }

    /// Blocks that every plan has, in order.
    fn in_all_plans(&self) -> Vec<(u32, u32)> {
        let Some((first, others)) = self.days.split_first() else { return Vec::new() };
        let mut ranges = first.clone();
        for other in others.iter().filter(|other| *other != first) {
            let other: HashSet<_> = other.iter().collect();
            ranges.retain(|range| other.contains(range));
        }
        ranges.sort_unstable();
        ranges
    }
}
