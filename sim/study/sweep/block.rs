//! Blocks of days: the units of work of a sweep, and what a store keeps of them.

use crate::angler::PlanId;
use crate::session::Outcome;
use crate::stats::Moments;
use crate::study::replicate::DayOutcomes;

/// Number of days of one point that are fished and stored together.
pub const BLOCK_DAYS: u32 = 32;
/// Maximum weight of a day [g]; more counts as this, so that squares of a block fit into the sums of a database.
const MAX_DAY_G: u32 = 500_000_000;

/// Some days of one point, fished and stored together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct WorkUnit {
    /// Index of the point in the design.
    pub(super) point: usize,
    /// First day.
    pub(super) from: u32,
    /// Last day.
    pub(super) to: u32,
}

impl WorkUnit {
    pub(super) fn days(self) -> u32 {
        self.to - self.from + 1
    }
}

/// A unit of work that is done.
#[derive(Debug)]
pub(super) struct FinishedUnit {
    /// One row per plan.
    pub(super) rows: Vec<BlockRow>,
    /// The days themselves; empty unless the store keeps whole days.
    pub(super) days: Vec<DayOutcomes>,
}

/// One block of days of one plan at one point.
#[derive(Clone, Debug)]
pub(super) struct BlockRow {
    pub(super) unit: WorkUnit,
    pub(super) plan: PlanId,
    pub(super) moments_g: Moments,
    pub(super) fish: u64,
    pub(super) bites: u64,
    pub(super) casts: u64,
    pub(super) bait_mg: u64,
    /// Weight of each day in four bytes, lowest byte first [g].
    pub(super) weights_g: Vec<u8>,
}

impl BlockRow {
    /// A row without days.
    pub(super) fn new(unit: WorkUnit, plan: PlanId) -> Self {
        let moments_g = Moments::default();
        Self { unit, plan, moments_g, fish: 0, bites: 0, casts: 0, bait_mg: 0, weights_g: vec![] }
    }

    /// Adds one day.
    pub(super) fn add(&mut self, outcome: &Outcome) {
        let weight_g = u32::try_from(outcome.weight_g).unwrap_or(u32::MAX).min(MAX_DAY_G);
        self.moments_g.add(i64::from(weight_g));
        self.fish += outcome.catches.len() as u64;
        self.bites += u64::from(outcome.bites);
        self.casts += u64::from(outcome.casts);
        self.bait_mg += (1e6 * outcome.bait_kg()).round() as u64;
        self.weights_g.extend(weight_g.to_le_bytes());
    }
}

/// Weights of the days of a stored block [g].
pub(super) fn days_g(block: &[u8]) -> impl Iterator<Item = u32> + '_ {
    block.as_chunks().0.iter().map(|&day| u32::from_le_bytes(day))
}
