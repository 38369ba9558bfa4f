//! Points that contend to be the best, and the values that speak for each.

use std::ops::Range;

use super::summary::Summary;

/// A level for each setting, counted from 0.
pub type Point = Vec<usize>;

/// A point to be tried on some days.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trial {
    /// What is tried.
    pub point: Point,
    /// On which days: a value each.
    pub days: Range<u32>,
}

/// Where the values of points come from: a value for each point and day, the larger the better.
///
/// Values of one day are of the same chance for all points, so that differences are sharper than values.
pub trait Trials {
    /// Whether a point can be tried at all.
    fn is_possible(&mut self, point: &[usize]) -> bool;

    /// The values of each trial, day by day; none if it was asked to stop.
    fn values(&mut self, trials: &[Trial]) -> Option<Vec<Vec<f64>>>;
}

/// One point with its values so far, on days that follow one another.
#[derive(Clone, Debug, PartialEq)]
pub struct Contender {
    /// The point.
    pub point: Point,
    /// The first day.
    pub first_day: u32,
    /// Its values, a day each.
    pub values: Vec<f64>,
}

impl Contender {
    /// One that was not yet tried.
    #[must_use]
    pub fn new(point: Point, first_day: u32) -> Self {
        Self { point, first_day, values: Vec::new() }
    }

    /// Number, mean and spread of its values.
    #[must_use]
    pub fn summary(&self) -> Summary {
        let mut summary = Summary::default();
        self.values.iter().for_each(|&value| summary.add(value));
        summary
    }

    /// The mean of its values; below any other where there are none.
    #[must_use]
    pub fn mean(&self) -> f64 {
        self.summary().mean().unwrap_or(f64::NEG_INFINITY)
    }

    /// What it is ahead of another on the days that both have.
    #[must_use]
    pub fn ahead_of(&self, other: &Self) -> Summary {
        let mut summary = Summary::default();
        let first = self.first_day.max(other.first_day);
        let from = |one: &Self| (first - one.first_day) as usize;
        let mine = self.values.iter().skip(from(self));
        mine.zip(other.values.iter().skip(from(other))).for_each(|(a, b)| summary.add(a - b));
        summary
    }

    fn next_day(&self) -> u32 {
        self.first_day + self.values.len() as u32
    }
}

/// Tries each contender on some more days; none if it was asked to stop.
pub(super) fn try_more(
    contenders: &mut [Contender],
    more_days: &[u32],
    trials: &mut impl Trials,
) -> Option<()> {
    let asked: Vec<Trial> = contenders
        .iter()
        .zip(more_days)
        .map(|(one, &more)| {
            let next = one.next_day();
            Trial { point: one.point.clone(), days: next..next + more }
        })
        .collect();
    let values = trials.values(&asked)?;
    for (one, more) in contenders.iter_mut().zip(values) {
        one.values.extend(more);
    }
    Some(())
}

/// Puts contenders in order of their means, the largest first; equal ones stay as they were.
pub(super) fn rank(contenders: &mut [Contender]) {
    contenders.sort_by(|a, b| b.mean().total_cmp(&a.mean()));
}
