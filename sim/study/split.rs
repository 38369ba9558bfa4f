//! Where a variance comes from: luck within a day, differences between days, and what is not known.

use rayon::prelude::*;
use serde::Serialize;

use super::progress::Control;
use super::weights::kg;
use crate::scenario::Scenario;
use crate::session::{Day, fish_session};
use crate::stats::{Block, Components, Estimate, components};

/// A part of a variance [kg²], with its 95 % interval, and as a share of the whole.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PartKg2 {
    /// Variance [kg²]; an estimate about nought may fall below it.
    pub variance_kg2: f64,
    /// Lower end of its 95 % interval [kg²].
    pub low95_kg2: Option<f64>,
    /// Upper end [kg²].
    pub high95_kg2: Option<f64>,
    /// Share of all parts together.
    pub share: f64,
}

/// The variance of one number a session, in parts that add up to it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Split {
    /// Luck within a day.
    pub luck: PartKg2,
    /// Differences between days: weather, stock, traits that the scenario gives a range.
    pub days: PartKg2,
    /// What is not known: values of the books.
    pub unknowns: PartKg2,
    /// Days and unknowns together, beyond what each does alone.
    pub days_with_unknowns: PartKg2,
    /// All of it [kg²].
    pub variance_kg2: f64,
}

/// What a pair of plans comes to, in that order: weight of the first, of the second, and their difference.
pub type PairSplit = [Split; 3];

/// Sessions in a block: two days, two states of what is not known, two lots of luck, two plans.
pub(super) const SESSIONS_A_BLOCK: u64 = 16;

/// Splits the variance of two plans' weights and of their paired difference over `blocks` independent blocks; none
/// if it was stopped, or of no blocks.
///
/// In a block two days are crossed with two draws of what is not known, and each of the four is fished twice with
/// luck of its own, the same for both plans.
#[must_use]
pub fn split(
    scenario: &Scenario,
    pair: [usize; 2],
    seed: u64,
    blocks: u32,
    control: Control<'_>,
) -> Option<PairSplit> {
    let fished: Option<Vec<[Block; 3]>> = (0..blocks)
        .into_par_iter()
        .map(|block| fish_block(scenario, pair, seed, block, control))
        .collect();
    let fished = fished?;
    let of = |number: usize| {
        let blocks: Vec<Block> = fished.iter().map(|three| three[number]).collect();
        components(&blocks).map(split_of)
    };
    Some([of(0)?, of(1)?, of(2)?])
}

fn fish_block(
    scenario: &Scenario,
    pair: [usize; 2],
    seed: u64,
    block: u32,
    control: Control<'_>,
) -> Option<[Block; 3]> {
    let mut three = [Block::default(); 3];
    for (day, unknown, luck) in (0..8).map(|cell| (cell >> 2, cell >> 1 & 1, cell & 1)) {
        // Luck has a number of its own in every cell; 0 would be that of the day itself.
        let number = 1 + u64::from(block) * 8 + (day * 4 + unknown * 2 + luck) as u64;
        let two = |which: usize| 1 + 2 * block + which as u32;
        let drawn = Day::draw_as(scenario, seed, two(day), two(unknown), number);
        let mut kgs = [0.0; 2];
        for (at, &plan) in kgs.iter_mut().zip(&pair) {
            if control.is_stopped() {
                return None;
            }
            *at = kg(fish_session(scenario, &scenario.plans[plan], &drawn).weight_g as f64);
            control.progress.session_is_done();
        }
        for (block, value) in three.iter_mut().zip([kgs[0], kgs[1], kgs[0] - kgs[1]]) {
            block[day][unknown][luck] = value;
        }
    }
    Some(three)
}

fn split_of(found: Components) -> Split {
    let whole = found.whole();
    let part = |estimate: Estimate| PartKg2 {
        variance_kg2: estimate.value,
        low95_kg2: estimate.interval95.map(|interval| interval.low),
        high95_kg2: estimate.interval95.map(|interval| interval.high),
        share: if whole > 0.0 { estimate.value / whole } else { 0.0 },
    };
    Split {
        luck: part(found.chance),
        days: part(found.first),
        unknowns: part(found.second),
        days_with_unknowns: part(found.both),
        variance_kg2: whole,
    }
}
