//! A sweep: every plan at every point on the same days, fished in batches that a store keeps.

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Instant;

use rayon::prelude::*;

use super::block::BlockRow;
use super::design::Design;
use super::progress::{Control, Progress};
use super::replicate::{DayFished, replicate};
use super::share::Share;
use super::stamp::Stamp;
use super::standing::Standing;
use super::store::Store;
use super::store_fault::StoreFault;
use crate::angler::Plan;
use crate::scenario::{Faults, Scenario, Written};
use crate::session::{Day, fish_session};

/// Days of one point that are fished and kept together.
pub const BLOCK_DAYS: u32 = 32;
/// Sessions of a batch for each thread: about a second's work, and what a power cut loses at most.
const BATCH_SESSIONS: u64 = 256;

/// What a sweep is asked: with the same of it, on any machine of a kind, the same comes out.
#[derive(Clone, Debug)]
pub struct Sweep {
    /// Version, seed, and the scenario before anything is varied.
    pub stamp: Stamp,
    /// The scenario as it was written.
    pub written: Written,
    /// What is set in it for all points.
    pub sets: Vec<String>,
    /// Whether every day is the same one, at central values.
    pub fixed_days: bool,
    /// The plans fished, in the order of the scenario.
    pub plans: Vec<String>,
    /// Keys and points.
    pub design: Design,
    /// Days fished at each point.
    pub days: u32,
    /// Which share of the work is done here.
    pub share: Share,
}

/// Some days of one point: the piece of work that is dealt out, fished and kept as one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Unit {
    /// Place of the point in the design.
    pub(super) place: usize,
    /// First day.
    pub(super) from: u32,
    /// Last day.
    pub(super) to: u32,
}

/// A piece of work that is done.
#[derive(Debug)]
pub(super) struct Piece {
    /// A row a plan.
    pub(super) rows: Vec<BlockRow>,
    /// The days themselves, where they are kept.
    pub(super) days: Vec<DayFished>,
}

impl Sweep {
    /// Whether it is a comparison, which varies nothing and keeps its days whole.
    #[must_use]
    pub fn is_comparison(&self) -> bool {
        self.design.keys.is_empty()
    }

    /// The scenario at a point.
    ///
    /// # Errors
    ///
    /// Everything that is wrong with the values there.
    pub fn scenario(&self, values: &[String]) -> Result<Scenario, Faults> {
        let at = self.design.keys.iter().zip(values).map(|(key, value)| format!("{key}={value}"));
        let sets: Vec<String> = self.sets.iter().cloned().chain(at).collect();
        let mut scenario =
            self.written.read(&sets).map_err(|faults| faults.of_vary(&self.design.keys))?;
        if self.fixed_days {
            scenario.fix_days();
        }
        scenario.plans.retain(|plan| self.plans.contains(&plan.name));
        Ok(scenario)
    }

    /// Reads the scenario at every point, so that what is wrong at one is known before anything is fished.
    ///
    /// # Errors
    ///
    /// What is wrong at the first point where something is.
    pub fn check(&self) -> Result<(), Faults> {
        let faults = self.design.points.par_iter().filter_map(|at| self.scenario(at).err());
        faults.find_first(|_| true).map_or(Ok(()), Err)
    }

    /// The pieces of work of this share that are still to do, where `done` says up to which day each point is:
    /// all points on the first days, then all on the next, so that a sweep cut short has seen every point.
    pub(super) fn to_do<'a>(&'a self, done: &'a [u32]) -> impl Iterator<Item = Unit> + 'a {
        let points = self.design.points.len();
        (0..self.days.div_ceil(BLOCK_DAYS)).flat_map(move |block| {
            (0..points).filter_map(move |place| {
                let from = (block * BLOCK_DAYS + 1).max(done[place] + 1);
                let to = (block + 1).saturating_mul(BLOCK_DAYS).min(self.days);
                let mine = self.share.takes(u64::from(block) * points as u64 + place as u64);
                (mine && from <= to).then_some(Unit { place, from, to })
            })
        })
    }

    /// Sessions in all of this share.
    #[must_use]
    pub fn sessions(&self) -> u64 {
        self.sessions_after(&vec![0; self.design.points.len()])
    }

    /// Sessions still to do.
    pub(super) fn sessions_after(&self, done: &[u32]) -> u64 {
        let days: u64 = self.to_do(done).map(|unit| u64::from(unit.to - unit.from + 1)).sum();
        days * self.plans.len() as u64
    }

    /// Time that a session takes with all threads at work [s], from a few fished at points all over the design.
    ///
    /// # Panics
    ///
    /// If a point is wrong that [`Sweep::check`] would find.
    #[must_use]
    pub fn session_cost_s(&self) -> f64 {
        let points = self.design.points.len();
        let tried = points.min(4 * rayon::current_num_threads());
        let begun = Instant::now();
        let sessions: usize = (0..tried)
            .into_par_iter()
            .map(|number| {
                let values = &self.design.points[number * points / tried];
                let scenario = self.scenario(values).expect("points were checked");
                let day = Day::draw(&scenario, self.stamp.seed, 1 + number as u32);
                for plan in &scenario.plans {
                    let _ = fish_session(&scenario, plan, &day);
                }
                scenario.plans.len()
            })
            .sum();
        begun.elapsed().as_secs_f64() / sessions.max(1) as f64
    }

    /// Fishes one piece of work.
    fn fish(&self, unit: Unit, progress: &dyn Progress) -> Piece {
        let scenario = self.scenario(&self.design.points[unit.place]).expect("points were checked");
        let begun = |plan: usize, _: &Plan| BlockRow::new(unit, plan);
        let mut rows: Vec<BlockRow> =
            scenario.plans.iter().enumerate().map(|(plan, named)| begun(plan, named)).collect();
        let mut days = Vec::new();
        // A piece that was begun is ended: to stop is decided between batches.
        let never = AtomicBool::new(false);
        let control = Control { progress, stop: &never };
        let Ok(_) = replicate(&scenario, self.stamp.seed, unit.from..=unit.to, control, |day| {
            rows.iter_mut().zip(&day.outcomes).for_each(|(row, outcome)| row.add(outcome));
            if self.is_comparison() {
                days.push(day.clone());
            }
            Ok::<(), std::convert::Infallible>(())
        });
        Piece { rows, days }
    }
}

/// Does what a store still lacks of its sweep; true if all of it is done, false if it was stopped.
///
/// Batches of about a second are fished in parallel and kept whole, each in one step that no kill and no power
/// cut can halve. `heard` is told the standing after each. Asked to stop, it ends the batch at hand and keeps it.
///
/// # Errors
///
/// Where the store cannot keep a batch; what was kept before stays good.
pub fn sweep(
    store: &mut Store,
    control: Control<'_>,
    mut heard: impl FnMut(&Standing),
) -> Result<bool, StoreFault> {
    let threads = rayon::current_num_threads();
    let sweep = store.sweep().clone();
    let mut standing = store.standing()?;
    heard(&standing);
    let done = store.days_done().to_vec();
    let mut units = sweep.to_do(&done).peekable();
    let begun = Instant::now();
    while units.peek().is_some() {
        if control.stop.load(Ordering::Relaxed) {
            return Ok(false);
        }
        let mut sessions = 0;
        let batch: Vec<Unit> = std::iter::from_fn(|| {
            let full = sessions >= BATCH_SESSIONS * threads as u64;
            let unit = if full { None } else { units.next() }?;
            sessions += u64::from(unit.to - unit.from + 1) * sweep.plans.len() as u64;
            Some(unit)
        })
        .collect();
        let pieces: Vec<Piece> =
            batch.par_iter().map(|&unit| sweep.fish(unit, control.progress)).collect();
        store.keep(&pieces, begun.elapsed().as_secs_f64(), threads)?;
        pieces.iter().flat_map(|piece| &piece.rows).for_each(|row| standing.add(row));
        heard(&standing);
    }
    Ok(true)
}

/// Fishes some days of one point again and says whether a store has the same.
///
/// # Errors
///
/// Where the store cannot be read.
pub fn same_here(store: &Store) -> Result<bool, StoreFault> {
    let none = vec![0; store.sweep().design.points.len()];
    let Some(unit) = store.sweep().to_do(&none).next() else { return Ok(true) };
    let piece = store.sweep().fish(unit, &super::progress::Unwatched);
    for row in &piece.rows {
        if !store.holds(row)? {
            return Ok(false);
        }
    }
    for day in &piece.days {
        if store.day(day.number)? != *day {
            return Ok(false);
        }
    }
    Ok(true)
}
