//! The verdict if the model were built otherwise: without each of its mechanisms in turn.

use schemars::JsonSchema;
use serde::Serialize;

use super::difference::PairedRuns;
use super::held::{HeldDifference, HeldMean, OverallDifference};
use crate::numerics::{normal_cumulative, normal_quantile};
use crate::scenario::Mechanism;

/// The paired difference on days on which one mechanism of the model is missing.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WithoutMechanism {
    /// The mechanism, as a clause: `wind carries scent`.
    pub mechanism: String,
    /// The difference and how certain it is.
    #[serde(flatten)]
    pub held: HeldMean,
    /// Chance that the first plan is better on average at the true values of the unknowns [share]. `None` if the comparison
    /// has too few days to tell chance from unknowns.
    pub chance_better: Option<f64>,
}

/// How far a verdict hangs on how the model is built.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct StructureDoubt {
    /// Chance that the first plan is better on average at the true values of the unknowns, with the model as it is
    /// [share]. `None` if the comparison has too few days to tell chance from unknowns.
    pub chance_better: Option<f64>,
    /// The same if the model is as likely right as it has one mechanism too many, each of them as likely as any other
    /// [share]. `None` if `chance_better` is.
    pub chance_better_if_unsure: Option<f64>,
    /// The difference without each mechanism, the least in favour of the first plan first.
    pub without: Vec<WithoutMechanism>,
}

/// Fishes the first days without each mechanism; `drawn_kg` are the differences on these days with all of them, and
/// `chance_better` is the chance that the first plan is better with all of them. `None` if the study was stopped, or if
/// there are too few days for an interval.
pub(super) fn structure_doubt(
    runs: &PairedRuns<'_>,
    drawn_kg: &[f64],
    overall: &OverallDifference,
    chance_better: Option<f64>,
) -> Option<StructureDoubt> {
    let mut without = Vec::with_capacity(Mechanism::ALL.len());
    for mechanism in Mechanism::ALL {
        let mut scenario = runs.scenario.clone();
        scenario.switch_off(mechanism);
        let held_kg = runs.days_kg(&scenario, drawn_kg.len() as u32)?;
        let held = HeldDifference::new(&held_kg, drawn_kg, overall)?.mean(Mechanism::ALL.len())?;
        without.push(WithoutMechanism {
            mechanism: mechanism.words().to_owned(),
            held,
            chance_better: chance_better
                .map(|chance| chance_at(chance, held.mean_kg / overall.mean_kg)),
        });
    }
    without.sort_by(|a, b| a.held.mean_kg.total_cmp(&b.held.mean_kg));
    let missing: Option<f64> = without.iter().map(|without| without.chance_better).sum();
    let chance_better_if_unsure = chance_better
        .zip(missing)
        .map(|(chance, missing)| 0.5 * (chance + missing / without.len() as f64));
    Some(StructureDoubt { chance_better, chance_better_if_unsure, without })
}

/// The chance of a mean above zero after the mean is multiplied by `factor`, its spread over the uncertain inputs being
/// as before: Φ(factor · Φ⁻¹(chance)).
fn chance_at(chance: f64, factor: f64) -> f64 {
    match factor * normal_quantile(chance) {
        score if score.is_nan() => 0.5,
        score => normal_cumulative(score),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_chance_follows_its_mean() {
        // A mean of one standard deviation is above zero with a chance of 0.8413, one of two with 0.9772 (any table).
        assert!((chance_at(0.841_345, 2.0) - 0.977_250).abs() < 1e-5);
        assert!((chance_at(0.841_345, -1.0) - 0.158_655).abs() < 1e-5);
        assert!((chance_at(0.9, 0.0) - 0.5).abs() < 1e-12);
        assert!((chance_at(1.0, 0.0) - 0.5).abs() < 1e-12);
        assert!((chance_at(1.0, -0.5)).abs() < 1e-12);
    }
}
