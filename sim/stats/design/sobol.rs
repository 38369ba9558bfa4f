//! Sobol' sequences, plain or scrambled: points that fill the unit cube evenly.

use rand::{Rng, SeedableRng};
use rand_xoshiro::SplitMix64;

use crate::numerics::powi;

/// The published table of direction numbers: a heading, then one row per dimension from the second on.
const JOE_KUO: &str = include_str!("directions/joe-kuo.txt");
/// Number of binary digits in a coordinate.
const BITS: usize = 32;

/// A Sobol' sequence. Its first 2ᵐ points are spread evenly over every coordinate, and over many pairs of coordinates.
///
/// Each point is computed from its index alone, so that several machines can share one sequence. Use the first 2ᵐ
/// points, from index 0 on. A sequence that starts later or leaves points out is no longer spread evenly.
///
/// - **Source** Joe & Kuo 2008 (SIAM Journal on Scientific Computing 30:2635), direction numbers for their
///   criterion D(6).
/// - **Checked by** V-86 (published points), V-87 (scrambled points).
///
/// ```
/// use sim::engine::Dice;
/// use sim::stats::Sobol;
/// assert_eq!(Sobol::new(3).point(2), [0.75, 0.25, 0.25]);
/// let scrambled = Sobol::scrambled(3, &mut Dice::from_key(&[1, 7]));
/// assert!(scrambled.point(0).iter().all(|&x| 0.0 < x && x < 1.0));
/// ```
#[derive(Clone, Debug)]
pub struct Sobol {
    /// By dimension: the digits of the coordinate that each binary digit of the index flips.
    directions: Vec<[u32; BITS]>,
    /// Key of the scrambling of each dimension; empty for a plain sequence.
    scramble_keys: Vec<u64>,
}

impl Sobol {
    /// Number of dimensions in the table.
    pub const MAX_DIMENSIONS: usize = 256;

    /// The sequence as published. It begins at the origin.
    ///
    /// # Panics
    ///
    /// If there are more than [`Sobol::MAX_DIMENSIONS`].
    pub fn new(dimensions: usize) -> Self {
        assert!(dimensions <= Self::MAX_DIMENSIONS, "no direction numbers for {dimensions}");
        // In the first dimension, digit k of the index becomes digit k after the binary point.
        let first = std::iter::once(std::array::from_fn(|k| 1 << (BITS - 1 - k)));
        let others = JOE_KUO.lines().skip(1).map(row_directions);
        Self {
            directions: first.chain(others).take(dimensions).collect(),
            scramble_keys: Vec::new(),
        }
    }

    /// The sequence with Owen's nested uniform scrambling. Each point is uniform on (0, 1) in every coordinate, and
    /// the points together stay as even as before.
    ///
    /// A digit is flipped or not by a hash of all digits before it and of the dimension's key, drawn from `rng`.
    ///
    /// - **Source** Owen 1995 (Monte Carlo and Quasi-Monte Carlo Methods, 299).
    ///
    /// # Panics
    ///
    /// If there are more than [`Sobol::MAX_DIMENSIONS`].
    pub fn scrambled(dimensions: usize, rng: &mut impl Rng) -> Self {
        let scramble_keys = (0..dimensions).map(|_| rng.next_u64()).collect();
        Self { scramble_keys, ..Self::new(dimensions) }
    }

    /// The point with an index, counted from 0.
    pub fn point(&self, index: u32) -> Vec<f64> {
        let coordinate = |(dimension, directions): (usize, &[u32; BITS])| {
            // Antonov & Saleev's order, as in all published lists: neighbours differ by one direction.
            let gray = index ^ (index >> 1);
            let digits = (0..BITS)
                .filter(|&bit| gray >> bit & 1 == 1)
                .fold(0, |digits, bit| digits ^ directions[bit]);
            match self.scramble_keys.get(dimension) {
                // The middle of the finest cell, so that no coordinate is 0 or 1.
                Some(&key) => (f64::from(scramble(digits, key)) + 0.5) / powi(2.0, BITS as i32),
                None => f64::from(digits) / powi(2.0, BITS as i32),
            }
        };
        self.directions.iter().enumerate().map(coordinate).collect()
    }
}

/// The directions from one row of the table, `d s a m₁ … mₛ`.
///
/// m_k = 2 a₁ m_{k−1} ⊕ 4 a₂ m_{k−2} ⊕ … ⊕ 2ˢ m_{k−s} ⊕ m_{k−s}, and direction k is m_k / 2ᵏ.
fn row_directions(row: &str) -> [u32; BITS] {
    let mut numbers = row
        .split_whitespace()
        .map(|number| number.parse().expect("the table contains whole numbers"));
    let mut next = || -> u32 { numbers.next().expect("a row is complete") };
    let (_dimension, degree, coefficients) = (next(), next() as usize, next());
    let mut directions = [0; BITS];
    for k in 0..BITS {
        directions[k] = if k < degree {
            next() << (BITS - 1 - k)
        } else {
            let earlier = directions[k - degree];
            (1..degree)
                .filter(|&i| coefficients >> (degree - 1 - i) & 1 == 1)
                .fold(earlier ^ (earlier >> degree), |direction, i| direction ^ directions[k - i])
        };
    }
    directions
}

/// Scrambles digits with a key, from the first digit on.
fn scramble(digits: u32, dimension_key: u64) -> u32 {
    (0..BITS as u32).fold(digits, |scrambled, position| {
        // The digits before this one, after a leading 1 that marks how many they are.
        let before = 1 << position | u64::from(digits) >> (BITS as u32 - position);
        let key = dimension_key ^ SplitMix64::seed_from_u64(before).next_u64();
        let flip = SplitMix64::seed_from_u64(key).next_u64() >> 63;
        scrambled ^ ((flip as u32) << (BITS as u32 - 1 - position))
    })
}
