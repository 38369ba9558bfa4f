//! Random streams: one for each seed, day, purpose and agent, independent of the number of threads.

use std::convert::Infallible;

use rand::{Rng, SeedableRng, TryRng};
use rand_distr::{Distribution, StandardUniform};
use rand_xoshiro::Xoshiro256PlusPlus;

use super::ziggurat::unit_exponential;
use crate::numerics::{cube, exp, ln, normal_quantile, powf};

/// A stream of random numbers: Xoshiro256++ (Blackman & Vigna 2021), seeded from a key mixed by SplitMix64.
///
/// A test pins the generator and the mixing, so that a seed gives the same session whatever version of a library is
/// used.
///
/// ```
/// use sim::engine::Dice;
/// let mut dice = Dice::from_key(&[1, 7, 3, 12]);
/// let mut same = Dice::from_key(&[1, 7, 3, 12]);
/// let mut other = Dice::from_key(&[1, 7, 3, 13]);
/// let first = dice.uniform();
/// assert!(first.to_bits() == same.uniform().to_bits());
/// assert!(first.to_bits() != other.uniform().to_bits());
/// ```
#[derive(Clone, Debug)]
pub struct Dice(Xoshiro256PlusPlus);

/// Mixes a word over all 64 bits, by one step of SplitMix64 (Steele, Lea & Flood 2014).
fn mix(word: u64) -> u64 {
    let mut z = word.wrapping_add(0x9e37_79b9_7f4a_7c15);
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

impl Dice {
    /// Creates the stream of a key, in our use (seed, day, purpose, agent).
    #[must_use]
    pub fn from_key(words: &[u64]) -> Self {
        let mixed = words.iter().fold(0, |state, &word| mix(state ^ mix(word)));
        Self(Xoshiro256PlusPlus::seed_from_u64(mixed))
    }

    /// Draws a uniform number in [0, 1).
    #[inline]
    pub fn uniform(&mut self) -> f64 {
        StandardUniform.sample(self)
    }

    /// Draws a uniform number in [low, high).
    #[inline]
    pub fn uniform_between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.uniform()
    }

    /// Draws a point in the disc of radius 1 about the origin, uniform over its area.
    #[inline]
    pub fn in_disc(&mut self) -> [f64; 2] {
        loop {
            let point = [self.between_minus_one_and_one(), self.between_minus_one_and_one()];
            if point[0] * point[0] + point[1] * point[1] <= 1.0 {
                return point;
            }
        }
    }

    /// Draws one of 2⁵² equally spaced numbers from −1 on, all below 1.
    #[inline]
    fn between_minus_one_and_one(&mut self) -> f64 {
        (self.0.next_u64() >> 12) as f64 * (1.0 / 2_251_799_813_685_248.0) - 1.0
    }

    /// Draws `true` with probability `p`; always uses exactly one random number.
    #[inline]
    pub fn bernoulli(&mut self, p: f64) -> bool {
        self.uniform() < p
    }

    /// Draws an exponential number with the given mean, in the unit of the mean.
    #[inline]
    pub fn exponential(&mut self, mean: f64) -> f64 {
        unit_exponential(|| self.0.next_u64()) * mean
    }

    /// Draws a standard normal number, by inversion; it always uses exactly one random number.
    #[inline]
    pub fn normal(&mut self) -> f64 {
        // The middle of one of 2⁵² equal steps: neither 0 nor 1.
        let steps = (self.0.next_u64() >> 12) as f64 + 0.5;
        normal_quantile(steps * (1.0 / 4_503_599_627_370_496.0))
    }

    /// Draws a lognormal number with the given median and standard deviation of the logarithm.
    #[inline]
    pub fn lognormal(&mut self, median: f64, sd_ln: f64) -> f64 {
        median * exp(sd_ln * self.normal())
    }

    /// Draws a gamma number with mean 1 and the given coefficient of variation; exactly 1 if that is zero or cannot be
    /// distinguished from zero.
    pub fn unit_mean_gamma(&mut self, cv: f64) -> f64 {
        if cv < f64::EPSILON {
            return 1.0;
        }
        let shape = 1.0 / (cv * cv);
        if shape < 1.0 {
            let power = powf(1.0 - self.uniform(), 1.0 / shape);
            return self.gamma(shape + 1.0) * power * cv * cv;
        }
        self.gamma(shape) * cv * cv
    }

    /// Draws a gamma number with scale 1 and a shape of at least 1.
    ///
    /// - **Source** Marsaglia & Tsang 2000, A simple method for generating gamma variables.
    fn gamma(&mut self, shape: f64) -> f64 {
        let d = shape - 1.0 / 3.0;
        let c = 1.0 / (9.0 * d).sqrt();
        loop {
            let normal = self.normal();
            let v = cube(1.0 + c * normal);
            let squared = normal * normal;
            if v > 0.0 && ln(1.0 - self.uniform()) < 0.5 * squared + d * (1.0 - v + ln(v)) {
                return d * v;
            }
        }
    }
}

impl TryRng for Dice {
    type Error = Infallible;

    #[inline]
    fn try_next_u32(&mut self) -> Result<u32, Infallible> {
        Ok(self.0.next_u32())
    }

    #[inline]
    fn try_next_u64(&mut self) -> Result<u64, Infallible> {
        Ok(self.0.next_u64())
    }

    fn try_fill_bytes(&mut self, dst: &mut [u8]) -> Result<(), Infallible> {
        self.0.fill_bytes(dst);
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_in_the_disc_are_uniform_over_its_area() {
        let mut dice = Dice::from_key(&[8, 1]);
        let points: Vec<[f64; 2]> = (0..100_000).map(|_| dice.in_disc()).collect();
        let share = |is_in: fn(&[f64; 2]) -> bool| {
            points.iter().filter(|point| is_in(point)).count() as f64 / points.len() as f64
        };
        for (counted, truth) in [
            (share(|[x, y]| x * x + y * y <= 1.0), 1.0),
            (share(|[x, y]| x * x + y * y <= 0.25), 0.25),
            (share(|[x, y]| *x < 0.0 && *y < 0.0), 0.25),
            (share(|[x, y]| x.abs() < *y), 0.25),
        ] {
            // Five standard errors of a share: the seed is fixed.
            let bound = 5.0 * (truth * (1.0 - truth) / points.len() as f64).sqrt();
            assert!((counted - truth).abs() <= bound, "{counted} in place of {truth}");
        }
    }
}
