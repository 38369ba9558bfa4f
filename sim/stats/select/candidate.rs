//! Candidates: points of a search space with their simulated values, and the simulator that produces them.

use std::ops::Range;

use crate::stats::describe::Summary;

/// A point of a search space: the level of each setting, counted from 0.
pub type GridPoint = Vec<usize>;

/// A request to simulate one point on some days.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trial {
    /// The point.
    pub point: GridPoint,
    /// The days; each gives one value.
    pub days: Range<u32>,
}

/// Simulator of points: one value for each point and day, larger is better.
///
/// All points share the random numbers of a day, so differences have less noise than values.
pub trait Simulator {
    /// Whether a point can be simulated at all.
    fn is_possible(&mut self, point: &[usize]) -> bool;

    /// Values of each trial, day by day. `None` if it was stopped.
    fn simulate(&mut self, trials: &[Trial]) -> Option<Vec<Vec<f64>>>;
}

/// A candidate: a point with its values so far, on consecutive days.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// The point.
    pub point: GridPoint,
    /// Its first day.
    pub first_day: u32,
    /// Its values, one per day.
    pub values: Vec<f64>,
}

impl Candidate {
    /// A candidate without values.
    pub fn new(point: GridPoint, first_day: u32) -> Self {
        Self { point, first_day, values: Vec::new() }
    }

    /// Count, mean and variance of its values.
    pub fn summary(&self) -> Summary {
        let mut summary = Summary::default();
        self.values.iter().for_each(|&value| summary.add(value));
        summary
    }

    /// Mean of its values; −∞ without values.
    pub fn mean(&self) -> f64 {
        self.summary().mean().unwrap_or(f64::NEG_INFINITY)
    }

    /// Paired differences to another candidate on their common days.
    pub fn paired_differences(&self, other: &Self) -> Summary {
        let mut summary = Summary::default();
        let first = self.first_day.max(other.first_day);
        let skipped = |candidate: &Self| (first - candidate.first_day) as usize;
        let own = self.values.iter().skip(skipped(self));
        let others = other.values.iter().skip(skipped(other));
        own.zip(others).for_each(|(own, other)| summary.add(own - other));
        summary
    }

    /// The day after its last one.
    fn next_day(&self) -> u32 {
        self.first_day + self.values.len() as u32
    }
}

/// Simulates each candidate on some more days. `None` if it was stopped.
pub(super) fn extend(
    candidates: &mut [Candidate],
    more_days: &[u32],
    simulator: &mut impl Simulator,
) -> Option<()> {
    let trials: Vec<Trial> = candidates
        .iter()
        .zip(more_days)
        .map(|(candidate, &more)| {
            let next = candidate.next_day();
            Trial { point: candidate.point.clone(), days: next..next + more }
        })
        .collect();
    let values = simulator.simulate(&trials)?;
    for (candidate, more) in candidates.iter_mut().zip(values) {
        candidate.values.extend(more);
    }
    Some(())
}

/// Sorts candidates by their means, the largest first; equal ones keep their order.
pub(super) fn rank(candidates: &mut [Candidate]) {
    let means: Vec<f64> = candidates.iter().map(Candidate::mean).collect();
    let mut order: Vec<usize> = (0..candidates.len()).collect();
    order.sort_by(|&i, &j| means[j].total_cmp(&means[i]));
    let ranked: Vec<Candidate> = order.iter().map(|&i| candidates[i].clone()).collect();
    candidates.iter_mut().zip(ranked).for_each(|(slot, candidate)| *slot = candidate);
}
