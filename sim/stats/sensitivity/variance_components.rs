//! Variance components: the parts of a variance that come from two crossed causes and from noise.

use crate::numerics::square;
use crate::stats::describe::Summary;
use crate::stats::inference::{Interval, mean_interval};

/// A balanced block of eight values: two levels of a first cause crossed with two of a second, two replicates each.
pub type CrossedBlock = [[[f64; 2]; 2]; 2];

/// An estimate with its 95 % interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VarianceEstimate {
    /// The estimate. It can be negative if the true value is near zero.
    pub value: f64,
    /// Its interval. `None` for fewer than two blocks.
    pub interval95: Option<Interval>,
}

/// Variance by source. The components add up to the total.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct VarianceComponents {
    /// The first cause alone.
    pub first: VarianceEstimate,
    /// The second cause alone.
    pub second: VarianceEstimate,
    /// The interaction of both causes.
    pub interaction: VarianceEstimate,
    /// Noise: what differs between two replicates with the same causes.
    pub noise: VarianceEstimate,
}

impl VarianceComponents {
    /// Total variance.
    pub fn total(&self) -> f64 {
        self.first.value + self.second.value + self.interaction.value + self.noise.value
    }
}

/// Unbiased variance components from the mean squares of independent blocks. `None` without blocks.
///
/// Intervals are by Student's t over the blocks.
///
/// In a block of 2 × 2 × 2: V_chance = MS_E, V_both = (MS_12 − MS_E)/2, V_1 = (MS_1 − MS_12)/4, V_2 = (MS_2 − MS_12)/4.
///
/// - **Source** two-way analysis of variance with random effects (textbook; Searle, Casella & McCulloch 1992).
/// - **Checked by** V-116 (an invented variance with known components).
pub fn variance_components(blocks: &[CrossedBlock]) -> Option<VarianceComponents> {
    let mut sums = [Summary::default(); 4];
    for block in blocks {
        for (sum, component) in sums.iter_mut().zip(block_components(block)) {
            sum.add(component);
        }
    }
    let estimate = |sum: &Summary| {
        let value = sum.mean()?;
        let interval95 = sum.se().and_then(|se| mean_interval(value, se, sum.n(), 0.95));
        Some(VarianceEstimate { value, interval95 })
    };
    let [first, second, both, chance] = [0, 1, 2, 3].map(|component| estimate(&sums[component]));
    Some(VarianceComponents { first: first?, second: second?, interaction: both?, noise: chance? })
}

/// Components estimated from one block: first cause, second cause, interaction, noise.
fn block_components(block: &CrossedBlock) -> [f64; 4] {
    let cell_mean = |i: usize, j: usize| 0.5 * (block[i][j][0] + block[i][j][1]);
    let half_square = |x: f64| 0.5 * x * x;
    let within: f64 = block.iter().flatten().map(|&[x, y]| half_square(x - y)).sum::<f64>() / 4.0;
    let [a, b, c, d] = [cell_mean(0, 0), cell_mean(0, 1), cell_mean(1, 0), cell_mean(1, 1)];
    // Each mean square has one degree of freedom: with four values a level, 4 · ½ (difference of means)².
    let first = 4.0 * half_square(0.5 * (a + b) - 0.5 * (c + d));
    let second = 4.0 * half_square(0.5 * (a + c) - 0.5 * (b + d));
    let interaction = 2.0 * square(0.5 * (a - b - c + d));
    [
        0.25 * (first - interaction),
        0.25 * (second - interaction),
        0.5 * (interaction - within),
        within,
    ]
}
