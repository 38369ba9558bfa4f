//! Two guesses at a better point, from all that one round has learned rather than from its winner alone.

use super::contender::{Contender, Point};
use super::space::Space;

/// How many of the best make the middle.
const IN_MIDDLE: usize = 8;
/// What holds coefficients back that the points hardly determine, as a share of the weight of all.
const RIDGE: f64 = 0.02;

/// The middle of the best points in every setting that has an order; the winner's level in the others.
pub(super) fn middle_of_best(space: &Space, ranked: &[Contender]) -> Option<Point> {
    let best = &ranked[..ranked.len().min(IN_MIDDLE)];
    let mut middle = best.first()?.point.clone();
    for (setting, _) in space.axes().iter().enumerate().filter(|(_, axis)| axis.is_ordered) {
        let levels: usize = best.iter().map(|one| one.point[setting]).sum();
        middle[setting] = (levels as f64 / best.len() as f64).round() as usize;
    }
    Some(middle)
}

/// The highest point, within the box of the points tried, of the curved surface that fits them best.
///
/// y = b₀ + Σ (b_j z_j + c_j z_j²), z_j from −1 to 1 across the box; weighted by the days of each point. Settings
/// without order keep the winner's level.
///
/// - **Source** Box & Wilson 1951 (Journal of the Royal Statistical Society B 13:1), without their cross terms.
pub(super) fn summit(space: &Space, ranked: &[Contender]) -> Option<Point> {
    let mut summit = ranked.first()?.point.clone();
    let boxed: Vec<(usize, f64, f64)> = (space.axes().iter().enumerate())
        .filter(|(_, axis)| axis.is_ordered)
        .filter_map(|(setting, _)| {
            let levels = || ranked.iter().map(|one| one.point[setting]);
            let (low, high) = (levels().min()? as f64, levels().max()? as f64);
            (low < high).then_some((setting, low, high))
        })
        .collect();
    let features = |point: &Point| -> Vec<f64> {
        let z = boxed
            .iter()
            .map(|&(setting, low, high)| (2.0 * point[setting] as f64 - low - high) / (high - low));
        std::iter::once(1.0).chain(z.flat_map(|z| [z, z * z])).collect()
    };
    let coefficients = fitted(
        ranked.iter().map(|one| (features(&one.point), one.mean(), one.values.len() as f64)),
    )?;
    for (&(setting, low, high), bend) in boxed.iter().zip(coefficients[1..].chunks_exact(2)) {
        let (slope, curve) = (bend[0], bend[1]);
        let z = if curve < 0.0 { (-0.5 * slope / curve).clamp(-1.0, 1.0) } else { slope.signum() };
        summit[setting] = (0.5 * (low + high + z * (high - low))).round() as usize;
    }
    Some(summit)
}

/// Coefficients of weighted least squares, all but the first held back by a ridge; none where they are not
/// determined.
fn fitted(rows: impl Iterator<Item = (Vec<f64>, f64, f64)>) -> Option<Vec<f64>> {
    let mut normal: Vec<Vec<f64>> = Vec::new();
    let mut weight_of_all = 0.0;
    for (mut row, value, weight) in rows {
        row.push(value);
        normal.resize(row.len() - 1, vec![0.0; row.len()]);
        for (into, &a) in normal.iter_mut().zip(&row) {
            into.iter_mut().zip(&row).for_each(|(sum, &b)| *sum += weight * a * b);
        }
        weight_of_all += weight;
    }
    for (i, equation) in normal.iter_mut().enumerate().skip(1) {
        equation[i] += RIDGE * weight_of_all;
    }
    solved(normal)
}

/// The solution of linear equations by elimination, each row ending with its right-hand side.
///
/// No rows are exchanged: a ridge keeps the diagonal of such equations away from nought.
fn solved(mut equations: Vec<Vec<f64>>) -> Option<Vec<f64>> {
    for i in 0..equations.len() {
        let (above, below) = equations.split_at_mut(i + 1);
        let pivot = &above[i];
        if pivot[i] <= 0.0 {
            return None;
        }
        for equation in below {
            let times = equation[i] / pivot[i];
            equation.iter_mut().zip(pivot).skip(i).for_each(|(into, &from)| *into -= times * from);
        }
    }
    let mut solution = vec![0.0; equations.len()];
    for (i, equation) in equations.iter().enumerate().rev() {
        let known: f64 = equation[i + 1..].iter().zip(&solution[i + 1..]).map(|(a, x)| a * x).sum();
        solution[i] = (equation[equation.len() - 1] - known) / equation[i];
    }
    Some(solution)
}
