//! Runs a sweep: every plan at every point on the same days, in batches that a store keeps.

use std::convert::Infallible;
use std::sync::atomic::AtomicBool;
use std::time::Instant;

use rayon::prelude::*;

use super::block::{BlockRow, FinishedUnit, WorkUnit};
use super::definition::SweepDefinition;
use super::shared_plans::SharedSessions;
use super::totals::SweepTotals;
use crate::angler::PlanId;
use crate::scenario::Diagnostics;
use crate::study::progress::{Control, NoProgress, Progress};
use crate::study::replicate::replicate;
use crate::study::runner::seconds_per_session;
use crate::study::shard::Shard;
use crate::study::sweep::store::{Store, StoreError};

/// Sessions of a batch per thread: about one second of work, which is the most that a power cut loses.
const BATCH_SESSIONS: u64 = 256;
/// Sampled points per thread, from which the time of a session is measured.
const SAMPLES_PER_THREAD: usize = 4;
/// Units of work that are fished again before stores are merged, in all stores together.
const SAMPLED_UNITS: usize = 16;
/// Some points were read before anything is fished.
const CHECKED: &str = "the values at this point were checked";

/// Why a sweep ended early.
#[derive(Debug, thiserror::Error)]
pub enum SweepError {
    /// The store cannot keep a batch, or cannot be read.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// The values at a point have faults; batches stored before are kept.
    #[error(transparent)]
    Point(#[from] Diagnostics),
}

impl SweepDefinition {
    /// Time of one session with all threads at work [s], measured at a few points spread over the design.
    ///
    /// # Panics
    ///
    /// If a point has faults that [`SweepDefinition::check`] would report.
    #[must_use]
    pub fn seconds_per_session(&self) -> f64 {
        let points = self.checked_count();
        let samples = points.min(SAMPLES_PER_THREAD * rayon::current_num_threads());
        seconds_per_session(samples as u32, self.stamp.seed, |sample| {
            let values = self.checked_point(sample as usize * points / samples);
            self.scenario(values).expect(CHECKED)
        })
    }
}

/// Fishes one unit of work with some of the plans. Once begun it runs to its end: a stop takes effect
/// between batches.
fn fish(
    sweep: &SweepDefinition,
    unit: WorkUnit,
    plans: &[PlanId],
    progress: &dyn Progress,
) -> Result<FinishedUnit, Diagnostics> {
    let mut scenario = sweep.scenario(&sweep.design.points[unit.point])?;
    let mut ids = (0..).map(PlanId);
    scenario.plans.retain(|_| ids.next().is_some_and(|plan| plans.contains(&plan)));
    let mut rows: Vec<BlockRow> = plans.iter().map(|&plan| BlockRow::new(unit, plan)).collect();
    if plans.is_empty() {
        return Ok(FinishedUnit { rows, days: Vec::new() });
    }
    let mut days = Vec::new();
    let never = AtomicBool::new(false);
    let control = Control { progress, stop: &never };
    let Ok(_) = replicate(&scenario, sweep.stamp.seed, unit.from..=unit.to, control, |day| {
        rows.iter_mut().zip(&day.outcomes).for_each(|(row, outcome)| row.add(outcome));
        if sweep.is_comparison() {
            days.push(day.clone());
        }
        Ok::<(), Infallible>(())
    });
    Ok(FinishedUnit { rows, days })
}

/// Fishes what the store of a sweep still lacks; returns true if the sweep is complete, false if it was stopped.
///
/// A plan that is the same at several points is fished once. Batches of about a second are fished in parallel. Each batch is one transaction of the store. `on_progress` is
/// called with the totals at the start and after each batch. A stop takes effect after the current batch is stored.
///
/// # Errors
///
/// If the store cannot keep a batch, or if the values at a point have faults; batches stored before stay valid.
pub fn run_sweep(
    store: &mut Store,
    control: Control<'_>,
    mut on_progress: impl FnMut(&SweepTotals),
) -> Result<bool, SweepError> {
    let threads = rayon::current_num_threads();
    let sweep = store.sweep().clone();
    let mut totals = store.totals()?;
    on_progress(&totals);
    let (gaps, done) = (store.gaps().to_vec(), store.days_done().to_vec());
    let mut units = gaps.into_iter().chain(sweep.to_do(&done)).peekable();
    let mut shared = SharedSessions::new(&sweep.plans, &sweep.design);
    let started = Instant::now();
    while units.peek().is_some() {
        if control.is_stopped() {
            return Ok(false);
        }
        let mut sessions = 0;
        let batch: Vec<(WorkUnit, Vec<PlanId>)> = std::iter::from_fn(|| {
            let is_full = sessions >= BATCH_SESSIONS * threads as u64;
            let unit = if is_full { None } else { units.next() }?;
            let plans = shared.plans_to_fish(unit);
            // A unit without sessions of its own still takes a place in the store.
            sessions += u64::from(unit.days()) * plans.len().max(1) as u64;
            Some((unit, plans))
        })
        .collect();
        let mut finished: Vec<FinishedUnit> = batch
            .par_iter()
            .map(|(unit, plans)| fish(&sweep, *unit, plans, control.progress))
            .collect::<Result<_, Diagnostics>>()?;
        shared.forget_before(batch.iter().map(|(unit, _)| unit.from).min().unwrap_or(0));
        for (finished, (unit, _)) in finished.iter_mut().zip(&batch) {
            shared.complete(finished, *unit);
        }
        store.keep(&finished, started.elapsed().as_secs_f64(), threads)?;
        finished.iter().flat_map(|unit| &unit.rows).for_each(|row| totals.add(row));
        on_progress(&totals);
    }
    Ok(true)
}

/// Fishes some units of a complete store again, spread over all of them, and returns whether the results are the same
/// on this machine; `shares` is the number of stores that are examined together.
///
/// # Errors
///
/// If the store cannot be read.
pub fn is_reproducible_here(store: &Store, shares: usize) -> Result<bool, SweepError> {
    let sweep = store.sweep();
    let plans: Vec<PlanId> = PlanId::all(sweep.plans.len()).collect();
    let units = sample(&store.units()?, sweep.shard, (SAMPLED_UNITS / shares.max(1)).max(1));
    let finished: Vec<FinishedUnit> = units
        .par_iter()
        .map(|&unit| fish(sweep, unit, &plans, &NoProgress))
        .collect::<Result<_, Diagnostics>>()?;
    for row in finished.iter().flat_map(|unit| &unit.rows) {
        if !store.holds(row)? {
            return Ok(false);
        }
    }
    for day in finished.iter().flat_map(|unit| &unit.days) {
        if store.day(day.number)? != *day {
            return Ok(false);
        }
    }
    Ok(true)
}

/// At most `size` of the units of a share, spread evenly over all; each share takes them from other places.
fn sample(units: &[WorkUnit], shard: Shard, size: usize) -> Vec<WorkUnit> {
    let size = size.min(units.len());
    let (number, shares) = (shard.number as usize - 1, shard.count as usize);
    let index = |chosen: usize| (chosen * shares + number) * units.len() / (size * shares);
    (0..size).map(|chosen| units[index(chosen)]).collect()
}
