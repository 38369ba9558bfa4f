//! Runs a sensitivity analysis of the verdict between the two best plans of a comparison.

use super::difference::PairedRuns;
use super::effort::{Effort, MAX_INFLUENTIAL, QUANTILES};
use super::held::OverallDifference;
use super::profile::profile;
use super::result::{InfluentialInput, PairVariances, SensitivityReport};
use super::reversal::reversals;
use super::screening::screen;
use super::sobol::pair_sobol_indices;
use super::structure::structure_doubt;
use super::variance::{PairVarianceComponents, pair_variance_components};
use crate::angler::PlanId;
use crate::engine::Dice;
use crate::scenario::{Scenario, UncertainInput};
use crate::stats::{Interval, SobolIndices, t_quantile};
use crate::study::compare::Comparison;
use crate::study::estimate::Estimate;
use crate::study::progress::Control;
use crate::study::runner::Runner;

/// Key of the random streams of the designs, separate from those of days.
const DESIGN_STREAM: u64 = 0x646f_7562;

/// The two plans with the highest mean weights, the higher first. `None` if there are fewer than two plans.
#[must_use]
pub fn two_best(comparison: &Comparison) -> Option<[PlanId; 2]> {
    let mut order: Vec<PlanId> = PlanId::all(comparison.plans.len()).collect();
    let mean = |plan: PlanId| comparison.plans[plan.0].weight_kg.mean;
    order.sort_by(|&a, &b| mean(b).total_cmp(&mean(a)));
    order.first_chunk().copied()
}

/// Analyses which uncertain inputs could reverse the verdict between the two best plans of a comparison. `None` if it
/// was stopped or there are fewer than two plans.
///
/// Inputs are moved while everything else is drawn as on any day. Both plans meet the same days, and points that are
/// compared have the same replicate noise.
#[must_use]
pub fn analyse_sensitivity(
    scenario: &Scenario,
    comparison: &Comparison,
    effort: Effort,
    control: Control<'_>,
) -> Option<SensitivityReport> {
    let pair = two_best(comparison)?;
    let [a, b] = pair.map(|plan| scenario.plans[plan].name.clone());
    let seed = comparison.stamp.seed;
    let runs = PairedRuns { scenario, pair, runner: Runner { seed, control } };
    let inputs = scenario.inputs_that_matter();
    let mut dice = Dice::from_key(&[seed, DESIGN_STREAM, 1]);
    let screened = screen(&runs, &inputs, effort.trajectories, &mut dice)?;
    let influential: Vec<&UncertainInput> = screened
        .iter()
        .take(MAX_INFLUENTIAL)
        .filter_map(|screened| inputs.iter().find(|input| input.key == screened.key))
        .collect();
    let difference_kg = difference(comparison, &a, &b)?;
    let mut dice = Dice::from_key(&[seed, DESIGN_STREAM, 2]);
    let indices = pair_sobol_indices(&runs, &influential, effort.rows, &mut dice)?;
    let overall = overall(comparison.days, &difference_kg);
    let drawn_kg = runs.days_kg(scenario, effort.profile_days)?;
    let influential_inputs = examine(&runs, &influential, indices.as_ref(), &overall, &drawn_kg)?;
    let components: PairVarianceComponents =
        pair_variance_components(scenario, pair, seed, effort.blocks, control)?;
    let [of_a, of_b, of_difference] = components;
    let structure = structure_doubt(&runs, &drawn_kg, &overall, chance_better(comparison, &a, &b))?;
    Some(SensitivityReport {
        format: SensitivityReport::FORMAT,
        stamp: comparison.stamp.clone(),
        days: comparison.days,
        profile_days: effort.profile_days,
        a,
        b,
        difference_kg,
        input_sd_kg: indices.as_ref().map(|indices| indices.variance.sqrt()),
        noise_sd_kg: indices.as_ref().map(|indices| indices.noise_variance.max(0.0).sqrt()),
        screened,
        influential: influential_inputs,
        structure,
        variance: PairVariances { a: of_a, b: of_b, difference: of_difference },
    })
}

/// Difference a − b in a comparison, for either order of the two plans.
fn difference(comparison: &Comparison, a: &str, b: &str) -> Option<Estimate> {
    let pair = |a: &str, b: &str| comparison.pairs.iter().find(|pair| pair.a == a && pair.b == b);
    pair(a, b)
        .map(|pair| pair.difference_kg)
        .or_else(|| pair(b, a).map(|pair| pair.difference_kg.negated()))
}

/// Chance that a is better than b on average, in a comparison, for either order of the two plans.
fn chance_better(comparison: &Comparison, a: &str, b: &str) -> Option<f64> {
    let chance = |a: &str, b: &str| {
        let pair = comparison.pairs.iter().find(|pair| pair.a == a && pair.b == b)?;
        Some(pair.superiority.mean_higher?.value)
    };
    chance(a, b).or_else(|| chance(b, a).map(|chance| 1.0 - chance))
}

/// Difference over all days, with the standard error that its interval implies.
fn overall(days: u32, difference_kg: &Estimate) -> OverallDifference {
    let t = t_quantile(0.95, u64::from(days.max(2)) - 1);
    let se_kg = |interval: Interval| 0.5 * (interval.high - interval.low) / t;
    OverallDifference {
        days,
        mean_kg: difference_kg.value,
        se_kg: difference_kg.interval.map(se_kg),
    }
}

/// Examines the most influential inputs: indices, profile and reversals of each. `None` if it was stopped.
fn examine(
    runs: &PairedRuns<'_>,
    influential: &[&UncertainInput],
    indices: Option<&SobolIndices>,
    overall: &OverallDifference,
    drawn_kg: &[f64],
) -> Option<Vec<InfluentialInput>> {
    let points = influential.len() * QUANTILES.len();
    influential
        .iter()
        .enumerate()
        .map(|(number, input)| {
            let line = profile(runs, input, drawn_kg, overall, points)?;
            let index = indices.map(|indices| indices.inputs[number]);
            Some(InfluentialInput {
                key: input.key.clone(),
                description: input.description.clone(),
                unit: input.unit.clone(),
                first: index.map(|index| index.first),
                total: index.map(|index| index.total),
                total_low95: index.map(|index| index.total95.low),
                total_high95: index.map(|index| index.total95.high),
                reversals: reversals(&line, overall.mean_kg),
                profile: line,
            })
        })
        .collect()
}
