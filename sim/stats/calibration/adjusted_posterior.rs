//! A posterior from a table of simulated cases, adjusted by regression.

use super::least_squares::LinearFit;
use crate::numerics::square;

/// Ridge of the regressions, as a share of a number's variance: only against numbers that repeat each other.
const RIDGE: f64 = 1e-9;

/// Simulated cases: what was put in, and what came out.
#[derive(Clone, Debug, PartialEq)]
pub struct ReferenceTable {
    /// Parameters of each case, on scales on which a linear regression makes sense.
    pub parameters: Vec<Vec<f64>>,
    /// Summaries of each case.
    pub summaries: Vec<Vec<f64>>,
}

/// What is known of the parameters once a case is observed.
#[derive(Clone, Debug, PartialEq)]
pub struct AdjustedPosterior {
    /// The cases that were near enough, by their number in the table, in ascending order.
    pub cases: Vec<usize>,
    /// The weights of these cases, which add up to one.
    pub weights: Vec<f64>,
    /// The parameters of these cases, moved to what they would be at the observed summaries.
    pub parameters: Vec<Vec<f64>>,
}

impl ReferenceTable {
    /// The regression of each parameter on all summaries, over the whole table.
    ///
    /// Its explained share says how much the summaries tell of a parameter at all, and its value is the summary that
    /// tells most (Fearnhead & Prangle 2012).
    pub fn regressions(&self) -> Vec<LinearFit> {
        let weights = vec![1.0; self.summaries.len()];
        let count = self.parameters.first().map_or(0, Vec::len);
        (0..count)
            .filter_map(|at| {
                let values: Vec<f64> = self.parameters.iter().map(|row| row[at]).collect();
                LinearFit::weighted(&self.summaries, &values, &weights, RIDGE)
            })
            .collect()
    }

    /// The posterior of the parameters for observed summaries, from the `accepted` nearest cases.
    ///
    /// Distances are between the regressions' values, each over its spread. Weights fall with the square of the distance
    /// (Epanechnikov). Each accepted case is moved along a local linear regression. `None` if fewer than two cases for each
    /// parameter are accepted.
    pub fn posterior(&self, observed: &[f64], accepted: usize) -> Option<AdjustedPosterior> {
        let regressions = self.regressions();
        let projected = |summaries: &[f64]| -> Vec<f64> {
            regressions.iter().map(|fit| fit.value(summaries)).collect()
        };
        let cases: Vec<Vec<f64>> = self.summaries.iter().map(|row| projected(row)).collect();
        posterior_near(&self.parameters, &cases, &projected(observed), accepted)
    }
}

/// The posterior from the cases nearest to the observed one, by a few summaries of each.
fn posterior_near(
    parameters: &[Vec<f64>],
    summaries: &[Vec<f64>],
    observed: &[f64],
    accepted: usize,
) -> Option<AdjustedPosterior> {
    let distances = distances(summaries, observed);
    let mut order: Vec<usize> = (0..distances.len()).collect();
    order.sort_by(|&a, &b| distances[a].total_cmp(&distances[b]).then(a.cmp(&b)));
    let accepted = accepted.min(order.len().checked_sub(1)?);
    let bandwidth = distances[order[accepted]];
    let weight = |case: usize| {
        if bandwidth > 0.0 { 1.0 - square(distances[case] / bandwidth) } else { 1.0 }
    };
    let mut cases: Vec<usize> =
        order[..accepted].iter().copied().filter(|&case| weight(case) > 0.0).collect();
    cases.sort_unstable();
    let count = parameters.first()?.len();
    if cases.len() < 2 * (count + 1) {
        return None;
    }
    let total: f64 = cases.iter().map(|&case| weight(case)).sum();
    let weights: Vec<f64> = cases.iter().map(|&case| weight(case) / total).collect();
    let near: Vec<Vec<f64>> = cases.iter().map(|&case| summaries[case].clone()).collect();
    let mut adjusted = vec![vec![0.0; count]; cases.len()];
    for at in 0..count {
        let values: Vec<f64> = cases.iter().map(|&case| parameters[case][at]).collect();
        let moved = moved_to(&near, &values, &weights, observed)?;
        adjusted.iter_mut().zip(moved).for_each(|(row, value)| row[at] = value);
    }
    Some(AdjustedPosterior { cases, weights, parameters: adjusted })
}

/// Values moved to the observed summaries along a local regression.
fn moved_to(
    summaries: &[Vec<f64>],
    values: &[f64],
    weights: &[f64],
    observed: &[f64],
) -> Option<Vec<f64>> {
    let fit = LinearFit::weighted(summaries, values, weights, RIDGE)?;
    let centre = fit.value(observed);
    let moved = summaries.iter().zip(values).map(|(row, value)| centre + value - fit.value(row));
    Some(moved.collect())
}

/// Distance of each case from the observed one: each summary over its standard deviation.
fn distances(summaries: &[Vec<f64>], observed: &[f64]) -> Vec<f64> {
    let n = summaries.len() as f64;
    let scales: Vec<f64> = (0..observed.len())
        .map(|at| {
            let mean = summaries.iter().map(|row| row[at]).sum::<f64>() / n;
            (summaries.iter().map(|row| square(row[at] - mean)).sum::<f64>() / n).sqrt()
        })
        .collect();
    let distance = |row: &Vec<f64>| {
        let parts = row.iter().zip(observed).zip(&scales).filter(|(_, scale)| **scale > 0.0);
        parts.map(|((x, seen), scale)| square((x - seen) / scale)).sum::<f64>().sqrt()
    };
    summaries.iter().map(distance).collect()
}

impl AdjustedPosterior {
    /// Mean of a parameter.
    pub fn mean(&self, parameter: usize) -> f64 {
        let cases = self.parameters.iter().zip(&self.weights);
        cases.map(|(row, weight)| weight * row[parameter]).sum()
    }

    /// Variance of a parameter.
    pub fn variance(&self, parameter: usize) -> f64 {
        let mean = self.mean(parameter);
        let cases = self.parameters.iter().zip(&self.weights);
        cases.map(|(row, weight)| weight * square(row[parameter] - mean)).sum()
    }

    /// Quantile `p` of a parameter; zero without cases.
    pub fn quantile(&self, parameter: usize, p: f64) -> f64 {
        let values: Vec<f64> = self.parameters.iter().map(|row| row[parameter]).collect();
        weighted_quantile(&values, &self.weights, p)
    }

    /// The effective number of cases: 1/Σw².
    pub fn effective_cases(&self) -> f64 {
        1.0 / self.weights.iter().map(|weight| weight * weight).sum::<f64>()
    }

    /// Numbers of `count` cases that stand for the posterior with equal weights, by their place in this posterior
    /// (systematic resampling, without chance).
    pub fn resampled(&self, count: usize) -> Vec<usize> {
        let mut chosen = Vec::with_capacity(count);
        let mut sum = 0.0;
        for (place, weight) in self.weights.iter().enumerate() {
            sum += weight;
            while chosen.len() < count && (chosen.len() as f64 + 0.5) / (count as f64) < sum {
                chosen.push(place);
            }
        }
        let last = self.weights.len().saturating_sub(1);
        chosen.resize(count, last);
        chosen
    }
}

/// Quantile `p` of weighted values; zero without values.
pub(super) fn weighted_quantile(values: &[f64], weights: &[f64], p: f64) -> f64 {
    let mut sorted: Vec<(f64, f64)> = values.iter().copied().zip(weights.iter().copied()).collect();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
    let wanted = p * sorted.iter().map(|(_, weight)| weight).sum::<f64>();
    let mut sum = 0.0;
    for &(value, weight) in &sorted {
        sum += weight;
        if sum >= wanted {
            return value;
        }
    }
    sorted.last().map_or(0.0, |last| last.0)
}
