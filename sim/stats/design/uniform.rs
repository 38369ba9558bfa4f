//! A uniform number from any random generator.

use rand::Rng;

use crate::numerics::powi;

/// Uniform on [0, 1), from one 64-bit number.
pub(in crate::stats) fn uniform(rng: &mut impl Rng) -> f64 {
    (rng.next_u64() >> 11) as f64 / powi(2.0, 53)
}
