//! Variance components: noise within a day, differences between days, and uncertain inputs.

use rayon::prelude::*;
use schemars::JsonSchema;
use serde::Serialize;

use crate::angler::PlanId;
use crate::scenario::Scenario;
use crate::session::Day;
use crate::stats::{CrossedBlock, VarianceComponents, VarianceEstimate, variance_components};
use crate::study::progress::Control;
use crate::study::runner::Runner;

/// One variance component [kg²] with its 95 % interval, and as a share of the whole.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct VarianceComponent {
    /// Variance [kg²]; the estimate of a component near zero may be negative.
    pub variance_kg2: f64,
    /// Lower end of the 95 % interval [kg²].
    pub low95_kg2: Option<f64>,
    /// Upper end of the interval [kg²].
    pub high95_kg2: Option<f64>,
    /// Share of the sum of all components.
    pub share: f64,
}

/// Variance components of one number per session; they add up to its variance.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct VarianceComponentsKg2 {
    /// Replicate noise within a day.
    #[serde(rename = "luck")]
    pub noise: VarianceComponent,
    /// Differences between days: weather, stock, and traits that the scenario gives as a range.
    pub days: VarianceComponent,
    /// Uncertain inputs: values of the parameter books.
    #[serde(rename = "unknowns")]
    pub uncertain_inputs: VarianceComponent,
    /// Interaction of days and uncertain inputs.
    #[serde(rename = "days_with_unknowns")]
    pub interaction: VarianceComponent,
    /// Total variance [kg²].
    pub variance_kg2: f64,
}

/// Variance components of the weight of the first plan, of the second plan, and of their difference.
pub type PairVarianceComponents = [VarianceComponentsKg2; 3];

/// Sessions per block: two days, two draws of the uncertain inputs, two replicates, two plans.
pub(super) const SESSIONS_PER_BLOCK: u64 = 16;

/// Estimates the variance components of two plans' weights and of their paired difference from `blocks` independent
/// blocks. `None` if the study was stopped or there are no blocks.
///
/// A block crosses two days with two draws of the uncertain inputs, and fishes each of the four combinations twice with
/// different replicate noise, the same for both plans.
#[must_use]
pub fn pair_variance_components(
    scenario: &Scenario,
    pair: [PlanId; 2],
    seed: u64,
    blocks: u32,
    control: Control<'_>,
) -> Option<PairVarianceComponents> {
    let runner = Runner { seed, control };
    let fished: Option<Vec<[CrossedBlock; 3]>> = (0..blocks)
        .into_par_iter()
        .map(|block| fish_block(scenario, pair, block, runner))
        .collect();
    let fished = fished?;
    let variances = |number: usize| {
        let blocks: Vec<CrossedBlock> = fished.iter().map(|blocks| blocks[number]).collect();
        variance_components(&blocks).map(in_kg2)
    };
    Some([variances(0)?, variances(1)?, variances(2)?])
}

/// Fishes one block; the values of the first plan, of the second, and of their difference. `None` if it was stopped.
fn fish_block(
    scenario: &Scenario,
    pair: [PlanId; 2],
    block: u32,
    runner: Runner<'_>,
) -> Option<[CrossedBlock; 3]> {
    let mut blocks = [CrossedBlock::default(); 3];
    for (day, draw, replicate) in (0..8).map(|cell| (cell >> 2, cell >> 1 & 1, cell & 1)) {
        // Each cell has a noise stream of its own; number 0 is the default stream of a day.
        let noise = 1 + u64::from(block) * 8 + (day * 4 + draw * 2 + replicate) as u64;
        let number = |level: usize| 1 + 2 * block + level as u32;
        let drawn = Day::draw_mixed(scenario, runner.seed, number(day), number(draw), noise);
        let [a_kg, b_kg] = runner.weigh_pair(scenario, pair, &drawn)?;
        for (block, value) in blocks.iter_mut().zip([a_kg, b_kg, a_kg - b_kg]) {
            block[day][draw][replicate] = value;
        }
    }
    Some(blocks)
}

/// Variance components with their intervals, each with its share of the whole.
fn in_kg2(components: VarianceComponents) -> VarianceComponentsKg2 {
    let whole = components.total();
    let part = |estimate: VarianceEstimate| VarianceComponent {
        variance_kg2: estimate.value,
        low95_kg2: estimate.interval95.map(|interval| interval.low),
        high95_kg2: estimate.interval95.map(|interval| interval.high),
        share: if whole > 0.0 { estimate.value / whole } else { 0.0 },
    };
    VarianceComponentsKg2 {
        noise: part(components.noise),
        days: part(components.first),
        uncertain_inputs: part(components.second),
        interaction: part(components.interaction),
        variance_kg2: whole,
    }
}
