//! The verdict if the model were built otherwise: without each of its mechanisms, and with each alternative, in turn.

use schemars::JsonSchema;
use serde::Serialize;

use super::difference::PairedRuns;
use super::held::{HeldDifference, HeldMean, OverallDifference};
use crate::numerics::{normal_cumulative, normal_quantile};
use crate::scenario::{Alternative, Scenario};

/// The paired difference on days on which one mechanism of the model is missing.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct WithoutMechanism {
    /// The mechanism, as a clause: `wind and currents carry scent`.
    pub mechanism: String,
    /// The difference and how certain it is.
    #[serde(flatten)]
    pub held: HeldMean,
    /// Chance that the first plan is better on average at the true values of the unknowns [share]. `None` if the comparison
    /// has too few days to tell chance from unknowns.
    pub chance_better: Option<f64>,
}

/// The paired difference on days on which a part of the model is built in another way.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct UnderAlternative {
    /// What is so instead, as a clause: `the sound of feed draws no fish`.
    pub alternative: String,
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
    /// The same if the model is as likely right as wrong in one part: one mechanism too many, or an alternative true, each
    /// as likely as any other [share]. `None` if `chance_better` is.
    pub chance_better_if_unsure: Option<f64>,
    /// The difference without each mechanism, the least in favour of the first plan first.
    pub without: Vec<WithoutMechanism>,
    /// The difference with each alternative, the least in favour of the first plan first.
    pub otherwise: Vec<UnderAlternative>,
}

/// What is fished with one part of the model changed.
struct ChangedModel<'a> {
    runs: &'a PairedRuns<'a>,
    /// Differences on the same days with the model as it is [kg].
    drawn_kg: &'a [f64],
    overall: &'a OverallDifference,
    chance_better: Option<f64>,
    /// Number of changed models, for joint intervals.
    count: usize,
}

impl ChangedModel<'_> {
    /// Fishes the first days with the changed `scenario`: the difference, and the chance that the first plan is better.
    /// `None` if the study was stopped, or for too few days.
    fn fish(&self, scenario: &Scenario) -> Option<(HeldMean, Option<f64>)> {
        let held_kg = self.runs.days_kg(scenario, self.drawn_kg.len() as u32)?;
        let held = HeldDifference::new(&held_kg, self.drawn_kg, self.overall)?;
        let factor = held.mean_kg / self.overall.mean_kg;
        let chance_better = self.chance_better.map(|chance| chance_at(chance, factor));
        Some((held.mean(self.count)?, chance_better))
    }
}

/// Fishes the first days without each mechanism and with each alternative; `drawn_kg` are the differences on these days
/// with the model as it is, and `chance_better` is the chance that the first plan is better with it. `None` if the study was
/// stopped, or if there are too few days for an interval.
pub(super) fn structure_doubt(
    runs: &PairedRuns<'_>,
    drawn_kg: &[f64],
    overall: &OverallDifference,
    chance_better: Option<f64>,
) -> Option<StructureDoubt> {
    let count = runs.scenario.mechanisms().count() + Alternative::ALL.len();
    let model = ChangedModel { runs, drawn_kg, overall, chance_better, count };
    let mut without = Vec::with_capacity(count);
    for mechanism in runs.scenario.mechanisms() {
        let mut scenario = runs.scenario.clone();
        scenario.switch_off(mechanism);
        let (held, chance_better) = model.fish(&scenario)?;
        let mechanism = mechanism.words().to_owned();
        without.push(WithoutMechanism { mechanism, held, chance_better });
    }
    let mut otherwise = Vec::with_capacity(Alternative::ALL.len());
    for alternative in Alternative::ALL {
        let mut scenario = runs.scenario.clone();
        scenario.build_otherwise(alternative);
        let (held, chance_better) = model.fish(&scenario)?;
        let alternative = alternative.words().to_owned();
        otherwise.push(UnderAlternative { alternative, held, chance_better });
    }
    without.sort_by(|a, b| a.held.mean_kg.total_cmp(&b.held.mean_kg));
    otherwise.sort_by(|a, b| a.held.mean_kg.total_cmp(&b.held.mean_kg));
    let chances = without.iter().map(|without| without.chance_better);
    let chances = chances.chain(otherwise.iter().map(|otherwise| otherwise.chance_better));
    let changed: Option<f64> = chances.sum();
    let chance_better_if_unsure =
        chance_better.zip(changed).map(|(chance, changed)| 0.5 * (chance + changed / count as f64));
    Some(StructureDoubt { chance_better, chance_better_if_unsure, without, otherwise })
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
