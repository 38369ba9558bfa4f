//! Latin hypercubes: designs in which every stratum of every coordinate holds one point.

use rand::Rng;

use super::uniform::uniform;

/// Points of a Latin hypercube on the unit cube. Each coordinate has `points` equal strata, with one point in each.
///
/// - **Source** McKay, Beckman & Conover 1979 (Technometrics 21:239).
/// - **Checked by** V-88 (strata; variance on a sum of functions).
pub fn latin_hypercube(points: usize, dimensions: usize, rng: &mut impl Rng) -> Vec<Vec<f64>> {
    let mut design = vec![Vec::with_capacity(dimensions); points];
    for _ in 0..dimensions {
        let mut strata: Vec<usize> = (0..points).collect();
        for last in (1..points).rev() {
            strata.swap(last, (uniform(rng) * (last + 1) as f64) as usize);
        }
        for (point, stratum) in design.iter_mut().zip(strata) {
            // Rounding must not move a point into the next stratum.
            let end = ((stratum + 1) as f64 / points as f64).next_down();
            point.push(((stratum as f64 + uniform(rng)) / points as f64).min(end));
        }
    }
    design
}
