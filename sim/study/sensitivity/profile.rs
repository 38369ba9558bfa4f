//! Profile of the paired difference along one uncertain input.

use schemars::JsonSchema;
use serde::Serialize;

use super::difference::PairedRuns;
use super::effort::QUANTILES;
use super::held::{HeldDifference, HeldMean, OverallDifference};
use crate::scenario::UncertainInput;

/// Paired difference with one input held at a value, all other inputs as drawn.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ProfilePoint {
    /// Value at which the input is held [in unit].
    pub value: f64,
    /// Share of the input's prior below the value [share].
    pub quantile: f64,
    /// The difference and how certain it is.
    #[serde(flatten)]
    pub held: HeldMean,
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
    fn new(
        (value, quantile): (f64, f64),
        held_kg: &[f64],
        drawn_kg: &[f64],
        overall: &OverallDifference,
        points: usize,
    ) -> Option<Self> {
        let held = HeldDifference::new(held_kg, drawn_kg, overall)?.mean(points)?;
        Some(Self { value, quantile, held })
    }
}
