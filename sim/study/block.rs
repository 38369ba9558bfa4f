//! A block of days of one plan at one point, as a store keeps it.

use super::sweep::Unit;
use crate::session::Outcome;
use crate::stats::Moments;

/// A day's weight above this counts as this [g]: squares of a block then fit in what a database adds up.
const MOST_DAY_G: u32 = 500_000_000;

/// One block of days of one plan at one point.
#[derive(Clone, Debug)]
pub(super) struct BlockRow {
    pub(super) unit: Unit,
    pub(super) plan: usize,
    pub(super) moments_g: Moments,
    pub(super) fish: u64,
    pub(super) bites: u64,
    pub(super) casts: u64,
    pub(super) bait_mg: u64,
    /// Four bytes a day, the lowest first [g].
    pub(super) weights_g: Vec<u8>,
}

impl BlockRow {
    pub(super) fn new(unit: Unit, plan: usize) -> Self {
        let moments_g = Moments::default();
        Self { unit, plan, moments_g, fish: 0, bites: 0, casts: 0, bait_mg: 0, weights_g: vec![] }
    }

    pub(super) fn add(&mut self, outcome: &Outcome) {
        let weight_g = u32::try_from(outcome.weight_g).unwrap_or(u32::MAX).min(MOST_DAY_G);
        self.moments_g.add(i64::from(weight_g));
        self.fish += outcome.catches.len() as u64;
        self.bites += u64::from(outcome.bites);
        self.casts += u64::from(outcome.casts);
        self.bait_mg += (1e6 * outcome.bait_kg()).round() as u64;
        self.weights_g.extend(weight_g.to_le_bytes());
    }
}

/// The days' weights of a block as it is kept [g].
pub(super) fn days_g(block: &[u8]) -> impl Iterator<Item = u32> + '_ {
    block.as_chunks().0.iter().map(|&day| u32::from_le_bytes(day))
}
