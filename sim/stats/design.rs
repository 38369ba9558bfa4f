//! Points that fill a space evenly: Sobol' sequences, plain or scrambled, and Latin hypercubes.

use rand::{Rng, SeedableRng};
use rand_xoshiro::SplitMix64;

/// The published table of direction numbers, a row a dimension from the second on, after one of heads.
const JOE_KUO: &str = include_str!("directions/joe-kuo.txt");
/// Binary digits of a coordinate.
const BITS: usize = 32;

/// A Sobol' sequence: the first 2ᵐ points lie evenly in every coordinate, and evenly in many pairs.
///
/// Points are found by their number, so that any part of a sequence can be made anywhere. Take 2ᵐ of them,
/// from number 0 on; a sequence thinned or begun later is no longer even.
///
/// - **Source** Joe & Kuo 2008 (SIAM Journal on Scientific Computing 30:2635), direction numbers of their
///   criterion D(6).
/// - **Checked by** V-86 (published points), V-87 (scrambled points).
///
/// ```
/// use sim::engine::Dice;
/// use sim::stats::Sobol;
/// assert_eq!(Sobol::plain(3).point(2), [0.75, 0.25, 0.25]);
/// let scrambled = Sobol::scrambled(3, &mut Dice::keyed(&[1, 7]));
/// assert!(scrambled.point(0).iter().all(|&x| 0.0 < x && x < 1.0));
/// ```
#[derive(Clone, Debug)]
pub struct Sobol {
    /// By dimension, what each binary digit of a point's number turns over in the coordinate.
    directions: Vec<[u32; BITS]>,
    /// By dimension, what names its scrambling; empty for a plain sequence.
    scrambles: Vec<u64>,
}

impl Sobol {
    /// Dimensions that the table holds.
    pub const MOST_DIMENSIONS: usize = 256;

    /// The sequence as published, which begins at the origin.
    ///
    /// # Panics
    ///
    /// If there are more than [`Sobol::MOST_DIMENSIONS`].
    #[must_use]
    pub fn plain(dimensions: usize) -> Self {
        assert!(dimensions <= Self::MOST_DIMENSIONS, "no direction numbers for {dimensions}");
        // In the first dimension digit k of the number becomes digit k after the point.
        let first = std::iter::once(std::array::from_fn(|k| 1 << (BITS - 1 - k)));
        let others = JOE_KUO.lines().skip(1).map(row_directions);
        Self { directions: first.chain(others).take(dimensions).collect(), scrambles: Vec::new() }
    }

    /// The sequence under Owen's nested uniform scrambling: each point is uniform on (0, 1) in every coordinate,
    /// and all together lie as evenly as before.
    ///
    /// Whether a digit is turned over depends on all digits before it, by a hash of them and of the
    /// dimension's own draw from `chance`.
    ///
    /// - **Source** Owen 1995 (Monte Carlo and Quasi-Monte Carlo Methods, 299).
    ///
    /// # Panics
    ///
    /// If there are more than [`Sobol::MOST_DIMENSIONS`].
    #[must_use]
    pub fn scrambled(dimensions: usize, chance: &mut impl Rng) -> Self {
        let scrambles = (0..dimensions).map(|_| chance.next_u64()).collect();
        Self { scrambles, ..Self::plain(dimensions) }
    }

    /// The point of a number, counted from 0.
    #[must_use]
    pub fn point(&self, number: u32) -> Vec<f64> {
        let coordinate = |(dimension, directions): (usize, &[u32; BITS])| {
            // Antonov & Saleev's order: neighbours differ by one direction, as in all published lists.
            let gray = number ^ (number >> 1);
            let digits = (0..BITS)
                .filter(|&bit| gray >> bit & 1 == 1)
                .fold(0, |so_far, bit| so_far ^ directions[bit]);
            match self.scrambles.get(dimension) {
                // The middle of the finest cell, so that neither end is ever met.
                Some(&name) => (f64::from(scramble(digits, name)) + 0.5) / 2_f64.powi(BITS as i32),
                None => f64::from(digits) / 2_f64.powi(BITS as i32),
            }
        };
        self.directions.iter().enumerate().map(coordinate).collect()
    }
}

/// The directions of one row of the table: `d s a m₁ … mₛ`.
///
/// m_k = 2 a₁ m_{k−1} ⊕ 4 a₂ m_{k−2} ⊕ … ⊕ 2ˢ m_{k−s} ⊕ m_{k−s}, and direction k is m_k / 2ᵏ.
fn row_directions(row: &str) -> [u32; BITS] {
    let mut numbers =
        row.split_whitespace().map(|number| number.parse().expect("the table holds whole numbers"));
    let mut next = || -> u32 { numbers.next().expect("a row is whole") };
    let (_dimension, degree, coefficients) = (next(), next() as usize, next());
    let mut directions = [0; BITS];
    for k in 0..BITS {
        directions[k] = if k < degree {
            next() << (BITS - 1 - k)
        } else {
            let last = directions[k - degree];
            (1..degree)
                .filter(|&i| coefficients >> (degree - 1 - i) & 1 == 1)
                .fold(last ^ (last >> degree), |so_far, i| so_far ^ directions[k - i])
        };
    }
    directions
}

/// Digits under the nested scrambling of a name, the first digit first.
fn scramble(digits: u32, name: u64) -> u32 {
    (0..BITS as u32).fold(digits, |scrambled, place| {
        // The digits before this one, behind a leading 1 that tells how many they are.
        let before = 1 << place | u64::from(digits) >> (BITS as u32 - place);
        let key = name ^ SplitMix64::seed_from_u64(before).next_u64();
        let turns = SplitMix64::seed_from_u64(key).next_u64() >> 63;
        scrambled ^ ((turns as u32) << (BITS as u32 - 1 - place))
    })
}

/// A Latin hypercube: each of `points` equal strata of every coordinate holds exactly one point, anywhere in it.
///
/// - **Source** McKay, Beckman & Conover 1979 (Technometrics 21:239).
/// - **Checked by** V-88 (strata; variance on a sum of functions).
#[must_use]
pub fn latin_hypercube(points: usize, dimensions: usize, chance: &mut impl Rng) -> Vec<Vec<f64>> {
    let mut design = vec![Vec::with_capacity(dimensions); points];
    for _ in 0..dimensions {
        let mut strata: Vec<usize> = (0..points).collect();
        for left in (1..points).rev() {
            strata.swap(left, (uniform(chance) * (left + 1) as f64) as usize);
        }
        for (point, stratum) in design.iter_mut().zip(strata) {
            // Rounding up must not carry a point into the next stratum.
            let end = ((stratum + 1) as f64 / points as f64).next_down();
            point.push(((stratum as f64 + uniform(chance)) / points as f64).min(end));
        }
    }
    design
}

/// Uniform on [0, 1).
fn uniform(chance: &mut impl Rng) -> f64 {
    (chance.next_u64() >> 11) as f64 / 2_f64.powi(53)
}
