//! Exponential numbers by the ziggurat method, which takes a logarithm only once in two thousand draws.
//!
//! - **Source** Marsaglia & Tsang 2000, The ziggurat method for generating random variables, Journal of Statistical
//!   Software 5(8).

use crate::numerics::{exp, ln, normal_exp, normal_ln};

/// Number of layers of equal area under the density e⁻ˣ.
const LAYERS: usize = 256;
/// Where the tail begins.
const TAIL: f64 = 7.697_117_470_131_487;
/// Area of a layer; the lowest one includes the tail.
const AREA: f64 = 3.949_659_822_581_557e-3;

/// Right edge of each layer, the lowest first, and the density there.
static EDGES: [(f64, f64); LAYERS + 1] = {
    let mut edges = [(0.0, 1.0); LAYERS + 1];
    edges[0] = (AREA / normal_exp(-TAIL), 0.0);
    edges[1] = (TAIL, normal_exp(-TAIL));
    let mut layer = 2;
    while layer < LAYERS {
        let (x, density) = edges[layer - 1];
        let above = density + AREA / x;
        edges[layer] = (-normal_ln(above), above);
        layer += 1;
    }
    edges
};

/// A uniform number in [0, 1) from the upper 53 of 64 random bits.
#[inline]
fn uniform(word: u64) -> f64 {
    (word >> 11) as f64 * (1.0 / 9_007_199_254_740_992.0)
}

/// An exponential number with mean 1, from a source of 64 random bits.
#[inline]
pub(super) fn unit_exponential(mut draw: impl FnMut() -> u64) -> f64 {
    loop {
        let word = draw();
        // The layer from the lowest 8 bits, the place in it from the upper 53.
        let layer = (word & 0xff) as usize;
        let x = uniform(word) * EDGES[layer].0;
        if x < EDGES[layer + 1].0 {
            return x;
        }
        if let Some(x) = beyond_the_box(layer, x, uniform(draw())) {
            return x;
        }
    }
}

/// What is rare: a number in the tail, or in the edge of a layer, where the density decides whether it counts.
#[cold]
#[inline(never)]
fn beyond_the_box(layer: usize, x: f64, u: f64) -> Option<f64> {
    if layer == 0 {
        return Some(TAIL - ln(1.0 - u));
    }
    let (density, above) = (EDGES[layer].1, EDGES[layer + 1].1);
    (density + (above - density) * u < exp(-x)).then_some(x)
}

#[cfg(test)]
mod tests {
    use rand::{Rng, SeedableRng};
    use rand_xoshiro::Xoshiro256PlusPlus;

    use super::*;

    #[test]
    fn layers_have_equal_areas_and_close_at_the_top() {
        for layer in 1..LAYERS {
            let ((x, density), (_, above)) = (EDGES[layer], EDGES[layer + 1]);
            assert!((x * (above - density) / AREA - 1.0).abs() < 1e-9, "layer {layer}");
        }
        // The lowest layer: a box up to the tail, and the tail.
        assert!(((TAIL + 1.0) * EDGES[1].1 / AREA - 1.0).abs() < 1e-12);
    }

    #[test]
    fn tail_and_body_have_their_shares() {
        let mut source = Xoshiro256PlusPlus::seed_from_u64(4);
        let draws: Vec<f64> =
            (0..1_000_000).map(|_| unit_exponential(|| source.next_u64())).collect();
        for x in [0.01, 0.1, 0.5, 1.0, 2.0, 4.0, TAIL, 9.0] {
            let share = draws.iter().filter(|&&draw| draw > x).count() as f64 / 1e6;
            let (truth, n) = (exp(-x), 1e6);
            // Five standard errors of a share: the seed is fixed, and a wrong layer is off by far more.
            let bound = 5.0 * (truth * (1.0 - truth) / n).sqrt();
            assert!((share - truth).abs() < bound, "above {x}: {share}, not {truth}");
        }
    }
}
