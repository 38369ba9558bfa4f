//! Profile of the paired difference along one uncertain input.

use schemars::JsonSchema;
use serde::Serialize;

use super::difference::PairedRuns;
use super::effort::QUANTILES;
use crate::numerics::square;
use crate::scenario::UncertainInput;
use crate::stats::{Summary, mean_interval};

/// Paired difference with one input held at a value, all other inputs as drawn.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ProfilePoint {
    /// Value at which the input is held [in unit].
    pub value: f64,
    /// Share of the input's prior below the value [share].
    pub quantile: f64,
    /// Mean difference [kg].
    pub mean_kg: f64,
    /// Lower end of its 95 % interval [kg].
    pub low95_kg: f64,
    /// Upper end of the interval [kg].
    pub high95_kg: f64,
    /// Lower end of the interval that holds at all points of all profiles together, in 95 of 100 studies [kg].
    #[serde(rename = "sure_low_kg")]
    pub joint_low_kg: f64,
    /// Upper end of that interval [kg].
    #[serde(rename = "sure_high_kg")]
    pub joint_high_kg: f64,
}

/// The difference over all days of the comparison, from which all profiles start.
pub(super) struct OverallDifference {
    /// Number of days on which it rests.
    pub(super) days: u32,
    /// Mean difference [kg].
    pub(super) mean_kg: f64,
    /// Standard error of the mean difference [kg]; `None` for a single day.
    pub(super) se_kg: Option<f64>,
}

/// Profile along one input, on the same days at each of its values; `drawn_kg` are the differences on these days with
/// nothing held, and `points` is the number of points of all profiles. `None` if the study was stopped.
pub(super) fn profile(
    runs: &PairedRuns<'_>,
    input: &UncertainInput,
    drawn_kg: &[f64],
    overall: &OverallDifference,
    points: usize,
) -> Option<Vec<ProfilePoint>> {
    QUANTILES
        .iter()
        .map(|&quantile| {
            let value = input.quantile(quantile);
            let mut scenario = runs.scenario.clone();
            input.fix_at(&mut scenario, value);
            let held_kg = runs.days_kg(&scenario, drawn_kg.len() as u32)?;
            ProfilePoint::new((value, quantile), &held_kg, drawn_kg, overall, points)
        })
        .collect()
}

impl ProfilePoint {
    /// A point from the differences on its days, and on the same days with nothing held [kg]; `points` is the number of
    /// points of all profiles.
    ///
    /// Control variate: the mean over all days of the comparison, plus the mean change on these days, which are some
    /// of them. The special conditions of these days cancel out. Var = s²/N + s_c²/n + 2 cov/N.
    fn new(
        (value, quantile): (f64, f64),
        held_kg: &[f64],
        drawn_kg: &[f64],
        overall: &OverallDifference,
        points: usize,
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
        let (mean, se) = (overall.mean_kg + change_kg, variance.max(0.0).sqrt());
        let single = mean_interval(mean, se, n, 0.95)?;
        // Bonferroni: each point is a chance of being wrong.
        let joint = mean_interval(mean, se, n, 1.0 - 0.05 / points.max(1) as f64)?;
        Some(Self {
            value,
            quantile,
            mean_kg: mean,
            low95_kg: single.low,
            high95_kg: single.high,
            joint_low_kg: joint.low,
            joint_high_kg: joint.high,
        })
    }
}
