//! Mean paired difference with something held, from a few of the days of the comparison.

use schemars::JsonSchema;
use serde::Serialize;

use crate::numerics::square;
use crate::stats::{Interval, Summary, mean_interval};

/// The difference over all days of the comparison, from which everything that is held starts.
pub(super) struct OverallDifference {
    /// Number of days on which it rests.
    pub(super) days: u32,
    /// Mean difference [kg].
    pub(super) mean_kg: f64,
    /// Standard error of the mean difference [kg]; `None` for a single day.
    pub(super) se_kg: Option<f64>,
}

/// Mean paired difference with something held, and how certain it is.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct HeldMean {
    /// Mean difference [kg].
    pub mean_kg: f64,
    /// Lower end of its 95 % interval [kg].
    pub low95_kg: f64,
    /// Upper end of the interval [kg].
    pub high95_kg: f64,
    /// Lower end of the joint interval [kg]. In 95 of 100 studies the joint intervals of all points of profiles hold at
    /// once, and so do those of all mechanisms and alternatives.
    #[serde(rename = "sure_low_kg")]
    pub joint_low_kg: f64,
    /// Upper end of the joint interval [kg].
    #[serde(rename = "sure_high_kg")]
    pub joint_high_kg: f64,
}

/// Mean difference over all days with something held, and its standard error.
pub(super) struct HeldDifference {
    /// Mean [kg].
    pub(super) mean_kg: f64,
    /// Standard error of the mean [kg].
    pub(super) se_kg: f64,
    /// Days on which it was held.
    pub(super) days: u64,
}

impl HeldDifference {
    /// From the differences on some days with something held, and on the same days with nothing held [kg]. `None` for
    /// fewer than two days.
    ///
    /// Control variate: the mean over all days of the comparison, plus the mean change on these days, which are some
    /// of them. The special conditions of these days cancel out. Var = s²/N + s_c²/n + 2 cov/N.
    pub(super) fn new(
        held_kg: &[f64],
        drawn_kg: &[f64],
        overall: &OverallDifference,
    ) -> Option<Self> {
        let (mut change, mut drawn) = (Summary::default(), Summary::default());
        for (held_kg, drawn_kg) in held_kg.iter().zip(drawn_kg) {
            change.add(held_kg - drawn_kg);
            drawn.add(*drawn_kg);
        }
        let (change_kg, drawn_mean_kg, n) = (change.mean()?, drawn.mean()?, change.n());
        let products = held_kg.iter().zip(drawn_kg).map(|(held_kg, drawn_kg)| {
            (held_kg - drawn_kg - change_kg) * (drawn_kg - drawn_mean_kg)
        });
        let covariance = products.sum::<f64>() / (n as f64 - 1.0);
        let change_se_kg = change.se()?;
        // A comparison of a single day says nothing of its error, and so none is shown.
        let variance = overall.se_kg.map_or(0.0, |se_kg| {
            square(se_kg) + square(change_se_kg) + 2.0 * covariance / f64::from(overall.days)
        });
        Some(Self {
            mean_kg: overall.mean_kg + change_kg,
            se_kg: variance.max(0.0).sqrt(),
            days: n,
        })
    }

    /// The mean with its intervals, if it is one of `count` such differences.
    pub(super) fn mean(&self, count: usize) -> Option<HeldMean> {
        let (single, joint) = (self.interval(0.95)?, self.joint_interval(count)?);
        Some(HeldMean {
            mean_kg: self.mean_kg,
            low95_kg: single.low,
            high95_kg: single.high,
            joint_low_kg: joint.low,
            joint_high_kg: joint.high,
        })
    }

    /// Interval of the mean [kg].
    pub(super) fn interval(&self, level: f64) -> Option<Interval> {
        mean_interval(self.mean_kg, self.se_kg, self.days, level)
    }

    /// Interval that holds for each of `count` such differences together, in 95 of 100 studies [kg].
    ///
    /// Bonferroni: each of them is a chance of being wrong.
    pub(super) fn joint_interval(&self, count: usize) -> Option<Interval> {
        self.interval(1.0 - 0.05 / count.max(1) as f64)
    }
}
