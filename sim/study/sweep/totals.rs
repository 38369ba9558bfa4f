//! Running totals of a sweep: the weights of every plan at every point so far, and the best of them.

use super::block::BlockRow;
use crate::angler::PlanId;
use crate::stats::Moments;
use crate::study::units::kg;

/// Sums so far. They take a few dozen bytes per point and plan, for any number of days.
#[derive(Clone, Debug)]
pub struct SweepTotals {
    plans: usize,
    weights_g: Vec<Moments>,
}

/// The point and plan with the highest mean weight so far.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BestSoFar {
    /// Index of the point in the design.
    pub point: usize,
    /// The plan.
    pub plan: PlanId,
    /// Mean weight [kg].
    pub mean_kg: f64,
    /// Standard error of the mean [kg].
    pub se_kg: f64,
    /// Number of days.
    pub days: u64,
}

impl SweepTotals {
    /// Empty totals for the given numbers of points and plans.
    pub(super) fn new(points: usize, plans: usize) -> Self {
        Self { plans, weights_g: vec![Moments::default(); points * plans] }
    }

    /// Sets the sums of a plan at a point.
    pub(super) fn set(&mut self, point: usize, plan: PlanId, weights_g: Moments) {
        self.weights_g[point * self.plans + plan.0] = weights_g;
    }

    /// Adds one block of days.
    pub(super) fn add(&mut self, row: &BlockRow) {
        self.weights_g[row.unit.point * self.plans + row.plan.0].merge(&row.moments_g);
    }

    /// Sums of a plan at a point [g].
    pub(super) fn weights_g(&self, point: usize, plan: PlanId) -> &Moments {
        &self.weights_g[point * self.plans + plan.0]
    }

    /// Number of sessions so far.
    #[must_use]
    pub fn sessions(&self) -> u64 {
        self.weights_g.iter().map(Moments::n).sum()
    }

    /// Highest mean, the first of equals. `None` until some plan has two days at some point.
    #[must_use]
    pub fn best(&self) -> Option<BestSoFar> {
        let means = self.weights_g.iter().enumerate().filter_map(|(index, weights_g)| {
            Some(BestSoFar {
                point: index / self.plans,
                plan: PlanId(index % self.plans),
                mean_kg: kg(weights_g.mean()?),
                se_kg: kg(weights_g.se()?),
                days: weights_g.n(),
            })
        });
        means.reduce(|best, other| if other.mean_kg > best.mean_kg { other } else { best })
    }
}
