//! How a sweep stands while it goes on: every plan's weight at every point so far, and the best of them.

use super::block::BlockRow;
use crate::stats::Moments;

/// Sums so far; they take a few dozen bytes a point and plan, however many days there are.
#[derive(Clone, Debug)]
pub struct Standing {
    plans: usize,
    weights_g: Vec<Moments>,
}

/// The best so far.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BestSoFar {
    /// Place of the point in the design.
    pub place: usize,
    /// Place of the plan.
    pub plan: usize,
    /// Mean weight [kg].
    pub mean_kg: f64,
    /// Standard error of the mean [kg].
    pub se_kg: f64,
    /// Days it rests on.
    pub days: u64,
}

impl Standing {
    /// Nothing known of so many points and plans.
    pub(super) fn new(points: usize, plans: usize) -> Self {
        Self { plans, weights_g: vec![Moments::default(); points * plans] }
    }

    /// What was kept of a point and plan.
    pub(super) fn set(&mut self, place: usize, plan: usize, weights_g: Moments) {
        self.weights_g[place * self.plans + plan] = weights_g;
    }

    pub(super) fn add(&mut self, row: &BlockRow) {
        self.weights_g[row.unit.place * self.plans + row.plan].merge(&row.moments_g);
    }

    /// What is known of a plan at a point [g].
    pub(super) fn weights_g(&self, place: usize, plan: usize) -> &Moments {
        &self.weights_g[place * self.plans + plan]
    }

    /// Sessions so far.
    #[must_use]
    pub fn sessions(&self) -> u64 {
        self.weights_g.iter().map(Moments::n).sum()
    }

    /// The highest mean, the first of equals; none before two days of anything.
    #[must_use]
    pub fn best(&self) -> Option<BestSoFar> {
        let known = self.weights_g.iter().enumerate().filter_map(|(at, weights_g)| {
            Some(BestSoFar {
                place: at / self.plans,
                plan: at % self.plans,
                mean_kg: weights_g.mean()? / 1000.0,
                se_kg: weights_g.se()? / 1000.0,
                days: weights_g.n(),
            })
        });
        known.reduce(|best, other| if other.mean_kg > best.mean_kg { other } else { best })
    }
}
