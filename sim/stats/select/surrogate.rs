//! Surrogate: two guesses at a better point, from all candidates of a round instead of its winner alone.

use super::candidate::{Candidate, GridPoint};
use super::space::SearchSpace;

/// Number of best candidates in the centroid.
const MAX_IN_CENTROID: usize = 8;
/// Ridge penalty on coefficients that the points hardly determine, as a share of the total weight.
const RIDGE: f64 = 0.02;

/// Centroid of the best candidates in the ordered settings, with the winner's level in the others. `None` without
/// candidates.
pub(super) fn centroid(space: &SearchSpace, ranked: &[Candidate]) -> Option<GridPoint> {
    let best = &ranked[..ranked.len().min(MAX_IN_CENTROID)];
    let mut centroid = best.first()?.point.clone();
    for (setting, _) in space.axes().iter().enumerate().filter(|(_, axis)| axis.is_ordered) {
        let levels: usize = best.iter().map(|candidate| candidate.point[setting]).sum();
        centroid[setting] = (levels as f64 / best.len() as f64).round() as usize;
    }
    Some(centroid)
}

/// Maximum of a quadratic surface fitted to the candidates, within the box that they span. `None` if the fit is not
/// determined.
///
/// y = b₀ + Σ (b_j z_j + c_j z_j²), with z_j from −1 to 1 across the box. Weights are each candidate's number of days.
/// Settings without order keep the winner's level.
///
/// - **Source** Box & Wilson 1951 (Journal of the Royal Statistical Society B 13:1), without the cross terms.
pub(super) fn surface_maximum(space: &SearchSpace, ranked: &[Candidate]) -> Option<GridPoint> {
    let mut maximum = ranked.first()?.point.clone();
    let ranges: Vec<(usize, f64, f64)> = (space.axes().iter().enumerate())
        .filter(|(_, axis)| axis.is_ordered)
        .filter_map(|(setting, _)| {
            let levels = || ranked.iter().map(|candidate| candidate.point[setting]);
            let (low, high) = (levels().min()? as f64, levels().max()? as f64);
            (low < high).then_some((setting, low, high))
        })
        .collect();
    let features = |point: &GridPoint| -> Vec<f64> {
        let z = ranges
            .iter()
            .map(|&(setting, low, high)| (2.0 * point[setting] as f64 - low - high) / (high - low));
        std::iter::once(1.0).chain(z.flat_map(|z| [z, z * z])).collect()
    };
    let coefficients = ridge_fit(ranked.iter().map(|candidate| {
        (features(&candidate.point), candidate.mean(), candidate.values.len() as f64)
    }))?;
    for (&(setting, low, high), terms) in ranges.iter().zip(coefficients[1..].chunks_exact(2)) {
        let (slope, curvature) = (terms[0], terms[1]);
        let z = if curvature < 0.0 {
            (-0.5 * slope / curvature).clamp(-1.0, 1.0)
        } else {
            slope.signum()
        };
        maximum[setting] = (0.5 * (low + high + z * (high - low))).round() as usize;
    }
    Some(maximum)
}

/// Coefficients by weighted least squares from rows of (features, value, weight). `None` if they are not determined.
///
/// A ridge penalty shrinks all coefficients but the first.
fn ridge_fit(rows: impl Iterator<Item = (Vec<f64>, f64, f64)>) -> Option<Vec<f64>> {
    let mut normal: Vec<Vec<f64>> = Vec::new();
    let mut total_weight = 0.0;
    for (mut row, value, weight) in rows {
        row.push(value);
        normal.resize(row.len() - 1, vec![0.0; row.len()]);
        for (equation, &a) in normal.iter_mut().zip(&row) {
            equation.iter_mut().zip(&row).for_each(|(sum, &b)| *sum += weight * a * b);
        }
        total_weight += weight;
    }
    for (i, equation) in normal.iter_mut().enumerate().skip(1) {
        equation[i] += RIDGE * total_weight;
    }
    solution(normal)
}

/// Solution of linear equations by Gaussian elimination; each row ends with its right-hand side. `None` if a pivot is
/// not positive.
///
/// No rows are exchanged: the ridge keeps the diagonal positive.
fn solution(mut equations: Vec<Vec<f64>>) -> Option<Vec<f64>> {
    for i in 0..equations.len() {
        let (above, below) = equations.split_at_mut(i + 1);
        let pivot = &above[i];
        if pivot[i] <= 0.0 {
            return None;
        }
        for equation in below {
            let factor = equation[i] / pivot[i];
            let terms = equation.iter_mut().zip(pivot).skip(i);
            terms.for_each(|(term, &pivot_term)| *term -= factor * pivot_term);
        }
    }
    let mut solution = vec![0.0; equations.len()];
    for (i, equation) in equations.iter().enumerate().rev() {
        let known_terms: f64 =
            equation[i + 1..].iter().zip(&solution[i + 1..]).map(|(a, x)| a * x).sum();
        solution[i] = (equation[equation.len() - 1] - known_terms) / equation[i];
    }
    Some(solution)
}
