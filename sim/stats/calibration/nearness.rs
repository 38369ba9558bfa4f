//! Whether an observed case looks like the simulated cases of a table.

use crate::numerics::square;
/// Distance is to this neighbour of a case, counted from 1.
const NEIGHBOUR: usize = 10;

/// Share of the cases that are at least as far from the others as the observed one, by the distance to the tenth
/// neighbour; each summary is measured in units of its spread between the 10 % and 90 % quantiles. 1.0 if there are too few
/// cases.
pub fn share_at_least_as_far(summaries: &[Vec<f64>], observed: &[f64]) -> f64 {
    if summaries.len() <= NEIGHBOUR {
        return 1.0;
    }
    let spreads: Vec<f64> = (0..observed.len())
        .map(|at| {
            let mut sorted: Vec<f64> = summaries.iter().map(|row| row[at]).collect();
            sorted.sort_by(f64::total_cmp);
            let rank = |p: f64| sorted[(p * (sorted.len() - 1) as f64) as usize];
            rank(0.9) - rank(0.1)
        })
        .collect();
    let scaled = |row: &[f64]| -> Vec<f64> {
        row.iter().zip(&spreads).map(|(x, s)| if *s > 0.0 { x / s } else { 0.0 }).collect()
    };
    let cases: Vec<Vec<f64>> = summaries.iter().map(|row| scaled(row)).collect();
    let to_neighbour = |from: &[f64], own: Option<usize>| {
        let squares = cases.iter().enumerate().filter(|(case, _)| Some(*case) != own);
        let mut squares: Vec<f64> = squares
            .map(|(_, row)| row.iter().zip(from).map(|(a, b)| square(a - b)).sum())
            .collect();
        *squares.select_nth_unstable_by(NEIGHBOUR - 1, f64::total_cmp).1
    };
    let distance = to_neighbour(&scaled(observed), None);
    // The distances of a few hundred cases are enough to place one among them.
    let step = (cases.len() / 400).max(1);
    let measured: Vec<f64> =
        (0..cases.len()).step_by(step).map(|case| to_neighbour(&cases[case], Some(case))).collect();
    let far = measured.iter().filter(|other| **other >= distance).count();
    far as f64 / measured.len() as f64
}
