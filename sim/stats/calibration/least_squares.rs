//! Least squares: a value from several numbers.

/// A linear fit: value = intercept + Σ slope · number.
#[derive(Clone, Debug, PartialEq)]
pub struct LinearFit {
    /// The value where all numbers are zero.
    pub intercept: f64,
    /// What each number adds.
    pub slopes: Vec<f64>,
    /// Share of the weighted variance of the values that the fit explains.
    pub explained_share: f64,
}

impl LinearFit {
    /// Fits values to rows of numbers with weights. `None` without rows, or if all weights are zero.
    ///
    /// Numbers are centred first. `ridge` is added to the diagonal as a share of each number's variance; a small one
    /// settles what numbers that repeat each other leave open.
    pub fn weighted(
        rows: &[Vec<f64>],
        values: &[f64],
        weights: &[f64],
        ridge: f64,
    ) -> Option<Self> {
        let total: f64 = weights.iter().sum();
        let first = rows.first()?;
        if total <= 0.0 {
            return None;
        }
        let cases = || rows.iter().zip(values).zip(weights);
        let mean_value = cases().map(|((_, value), weight)| weight * value).sum::<f64>() / total;
        let means: Vec<f64> = (0..first.len())
            .map(|at| cases().map(|((row, _), weight)| weight * row[at]).sum::<f64>() / total)
            .collect();
        let count = means.len();
        let mut equations = vec![vec![0.0; count + 1]; count];
        let mut variance = 0.0;
        for ((row, value), weight) in cases() {
            let centred: Vec<f64> = row.iter().zip(&means).map(|(x, mean)| x - mean).collect();
            let residual = value - mean_value;
            variance += weight * residual * residual;
            for (equation, x) in equations.iter_mut().zip(&centred) {
                for (term, other) in equation.iter_mut().zip(&centred) {
                    *term += weight * x * other;
                }
                equation[count] += weight * x * residual;
            }
        }
        let covariances: Vec<f64> = equations.iter().map(|equation| equation[count]).collect();
        for (at, equation) in equations.iter_mut().enumerate() {
            equation[at] *= 1.0 + ridge;
        }
        let slopes = solution(equations);
        let explained: f64 = slopes.iter().zip(&covariances).map(|(b, c)| b * c).sum();
        let offset: f64 = slopes.iter().zip(&means).map(|(b, mean)| b * mean).sum();
        let explained_share = if variance > 0.0 { explained / variance } else { 0.0 };
        Some(Self { intercept: mean_value - offset, slopes, explained_share })
    }

    /// The fitted value for one row of numbers.
    pub fn value(&self, row: &[f64]) -> f64 {
        self.intercept + self.slopes.iter().zip(row).map(|(slope, x)| slope * x).sum::<f64>()
    }
}

/// Solution of symmetric equations by elimination; each ends with its right-hand side. A number without variance, or
/// that repeats others, gets zero.
fn solution(mut equations: Vec<Vec<f64>>) -> Vec<f64> {
    const NEGLIGIBLE: f64 = 1e-12;
    let count = equations.len();
    let first: Vec<f64> = (0..count).map(|at| equations[at][at]).collect();
    for at in 0..count {
        let (above, below) = equations.split_at_mut(at + 1);
        let pivot = &above[at];
        if pivot[at] <= NEGLIGIBLE * first[at] {
            continue;
        }
        for equation in below {
            let factor = equation[at] / pivot[at];
            let terms = equation.iter_mut().zip(pivot).skip(at);
            terms.for_each(|(term, pivot_term)| *term -= factor * pivot_term);
        }
    }
    let mut solution = vec![0.0; count];
    for at in (0..count).rev() {
        let equation = &equations[at];
        if equation[at] > NEGLIGIBLE * first[at] {
            let known: f64 = (at + 1..count).map(|later| equation[later] * solution[later]).sum();
            solution[at] = (equation[count] - known) / equation[at];
        }
    }
    solution
}
