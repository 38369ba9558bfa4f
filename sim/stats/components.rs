//! A variance split into what two crossed causes and chance have a part in.

use super::interval::{Interval, mean_interval};
use super::summary::Summary;

/// A block of eight values: two of a first cause, crossed with two of a second, each pair tried twice.
pub type Block = [[[f64; 2]; 2]; 2];

/// An estimate with its 95 % interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// The estimate; it may fall below nought where the truth is near it.
    pub value: f64,
    /// Its interval; none of fewer than two blocks.
    pub interval95: Option<Interval>,
}

/// Where a variance comes from; the parts add up to the whole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Components {
    /// The first cause alone.
    pub first: Estimate,
    /// The second cause alone.
    pub second: Estimate,
    /// Both together beyond what each does alone.
    pub both: Estimate,
    /// Chance: what differs between two trials of the same causes.
    pub chance: Estimate,
}

impl Components {
    /// All of the variance.
    #[must_use]
    pub fn whole(&self) -> f64 {
        self.first.value + self.second.value + self.both.value + self.chance.value
    }
}

/// Splits a variance by the mean squares of independent blocks, each balanced, without bias; intervals by t over
/// the blocks.
///
/// In a block of 2 × 2 × 2: V_chance = MS_E, V_both = (MS_12 − MS_E)/2, V_1 = (MS_1 − MS_12)/4, V_2 = (MS_2 − MS_12)/4.
///
/// - **Source** two-way analysis of variance with random effects (textbook; Searle, Casella & McCulloch 1992).
/// - **Checked by** V-116 (a made-up variance with known parts).
///
/// None of no blocks.
#[must_use]
pub fn components(blocks: &[Block]) -> Option<Components> {
    let mut sums = [Summary::default(); 4];
    for block in blocks {
        for (sum, part) in sums.iter_mut().zip(parts(block)) {
            sum.add(part);
        }
    }
    let estimate = |sum: &Summary| {
        let value = sum.mean()?;
        let interval95 = sum.se().and_then(|se| mean_interval(value, se, sum.n(), 0.95));
        Some(Estimate { value, interval95 })
    };
    let [first, second, both, chance] = [0, 1, 2, 3].map(|part| estimate(&sums[part]));
    Some(Components { first: first?, second: second?, both: both?, chance: chance? })
}

/// First, second, both and chance, as one block has them.
fn parts(block: &Block) -> [f64; 4] {
    let cell = |i: usize, j: usize| 0.5 * (block[i][j][0] + block[i][j][1]);
    let half_square = |x: f64| 0.5 * x * x;
    let within: f64 =
        block.iter().flatten().map(|&[one, other]| half_square(one - other)).sum::<f64>() / 4.0;
    let [a, b, c, d] = [cell(0, 0), cell(0, 1), cell(1, 0), cell(1, 1)];
    // Mean squares have one degree of freedom each: with four trials a level, 4·(½(difference of means)²).
    let first = 4.0 * half_square(0.5 * (a + b) - 0.5 * (c + d));
    let second = 4.0 * half_square(0.5 * (a + c) - 0.5 * (b + d));
    let together = 2.0 * (0.5 * (a - b - c + d)).powi(2);
    [0.25 * (first - together), 0.25 * (second - together), 0.5 * (together - within), within]
}
