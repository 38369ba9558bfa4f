//! Definition of a sweep: the scenario, the points, the days, and the units of work still to do.

use rayon::prelude::*;

use super::block::{BLOCK_DAYS, WorkUnit};
use super::design::Design;
use super::shared_plans::SharedSessions;
use crate::scenario::{Diagnostics, Scenario, ScenarioSource, read_learned_book};
use crate::study::shard::Shard;
use crate::study::stamp::Stamp;

/// Largest number of points that are read at once; it takes about a second.
const MAX_CHECKED_POINTS: usize = 256;

/// Definition of a sweep. The same definition gives the same results on all machines of one kind.
#[derive(Clone, Debug)]
pub struct SweepDefinition {
    /// Version, seed, and the scenario before anything is varied.
    pub stamp: Stamp,
    /// Text of the scenario.
    pub source: ScenarioSource,
    /// Overrides that hold at all points.
    pub overrides: Vec<String>,
    /// Text of the learned book that is laid over the parameters at all points. `None` without one.
    pub book: Option<String>,
    /// Whether every day has the same central weather and inputs.
    pub fixed_days: bool,
    /// Names of the plans fished, in the order of the scenario.
    pub plans: Vec<String>,
    /// Keys and points.
    pub design: Design,
    /// Days fished at each point.
    pub days: u32,
    /// The share of the work that is done here.
    pub shard: Shard,
}

impl SweepDefinition {
    /// Whether it is a comparison: nothing is varied, and whole days are stored.
    #[must_use]
    pub fn is_comparison(&self) -> bool {
        self.design.keys.is_empty()
    }

    /// Reads the scenario at a point.
    ///
    /// # Errors
    ///
    /// All faults in the values of the point.
    pub fn scenario(&self, values: &[String]) -> Result<Scenario, Diagnostics> {
        let keys = &self.design.keys;
        let varied = keys.iter().zip(values).map(|(key, value)| format!("{key}={value}"));
        let sets: Vec<String> = self.overrides.iter().cloned().chain(varied).collect();
        let mut scenario =
            self.source.read(&sets).map_err(|faults| faults.attributed_to_vary(keys))?;
        if let Some(book) = &self.book {
            scenario.lay_over(read_learned_book(book, "learned book", &scenario)?);
        }
        if self.fixed_days {
            scenario.fix_days();
        }
        scenario.plans.retain(|plan| self.plans.contains(&plan.name));
        Ok(scenario)
    }

    /// Reads the scenario at some points, spread evenly over all, so that most faults are reported within a second. All
    /// points are read if there are at most 256.
    ///
    /// # Errors
    ///
    /// The faults at the first of these points that has any.
    pub fn check(&self) -> Result<(), Diagnostics> {
        let count = self.checked_count();
        let faults = (0..count)
            .into_par_iter()
            .filter_map(|index| self.scenario(self.checked_point(index)).err());
        faults.find_first(|_| true).map_or(Ok(()), Err)
    }

    /// Reads the scenario at every point; of 10,000 that takes some seconds, far less than fishing them.
    ///
    /// # Errors
    ///
    /// The faults at the first point that has any.
    pub fn check_every_point(&self) -> Result<(), Diagnostics> {
        let points = self.design.points.par_iter();
        let faults = points.filter_map(|values| self.scenario(values).err());
        faults.find_first(|_| true).map_or(Ok(()), Err)
    }

    /// Number of the points that [`SweepDefinition::check`] reads.
    pub(super) fn checked_count(&self) -> usize {
        self.design.points.len().min(MAX_CHECKED_POINTS)
    }

    /// Values at one of these points.
    pub(super) fn checked_point(&self, index: usize) -> &[String] {
        &self.design.points[index * self.design.points.len() / self.checked_count()]
    }

    /// Units of work of this share that are still to do; `done` is the last day done at each point. All points come
    /// with their first days, then all with the next ones, so that an interrupted sweep has covered every point.
    pub(super) fn to_do<'a>(&'a self, done: &'a [u32]) -> impl Iterator<Item = WorkUnit> + 'a {
        let points = self.design.points.len();
        (0..self.days.div_ceil(BLOCK_DAYS)).flat_map(move |block| {
            (0..points).filter_map(move |point| {
                let from = (block * BLOCK_DAYS + 1).max(done[point] + 1);
                let to = (block + 1).saturating_mul(BLOCK_DAYS).min(self.days);
                let is_ours = self.shard.includes(self.block_index(block, point));
                (is_ours && from <= to).then_some(WorkUnit { point, from, to })
            })
        })
    }

    /// Index of a block of days at a point among all blocks of the sweep, by which blocks are assigned to shares.
    pub(super) fn block_index(&self, block: u32, point: usize) -> u64 {
        u64::from(block) * self.design.points.len() as u64 + point as u64
    }

    /// Total number of sessions of this share; sessions that are the same at several points count once.
    #[must_use]
    pub fn sessions(&self) -> u64 {
        self.sessions_after(&vec![0; self.design.points.len()])
    }

    /// Number of sessions still to do; `done` is the last day done at each point.
    pub(super) fn sessions_after(&self, done: &[u32]) -> u64 {
        self.sessions_of(self.to_do(done))
    }

    /// Number of sessions of some units of work, in their order; those that are the same at several points count once.
    pub(super) fn sessions_of(&self, units: impl Iterator<Item = WorkUnit>) -> u64 {
        let mut shared = SharedSessions::new(&self.plans, &self.design);
        units.map(|unit| u64::from(unit.days()) * shared.plans_to_fish(unit).len() as u64).sum()
    }
}
