//! Screening: ranks all uncertain inputs by their effect on the difference between two plans.

use rayon::prelude::*;

use super::difference::PairedRuns;
use super::effort::REPLICATES;
use super::result::ScreenedInput;
use crate::engine::Dice;
use crate::scenario::UncertainInput;
use crate::stats::{EffectSummary, ElementaryEffect, morris_trajectories};

/// Number of levels of the screening grid.
const LEVELS: u32 = 4;

/// Moves every input, one at a time, and ranks the inputs by their effect beyond replicate noise (Morris's method).
/// `None` if the study was stopped.
pub(super) fn screen(
    runs: &PairedRuns<'_>,
    inputs: &[UncertainInput],
    count: u32,
    dice: &mut Dice,
) -> Option<Vec<ScreenedInput>> {
    let paths = morris_trajectories(count as usize, inputs.len(), LEVELS, dice);
    let held: Vec<&UncertainInput> = inputs.iter().collect();
    // The levels are the middles of equal parts of the prior.
    let parts = f64::from(LEVELS);
    let quantile = |&level: &f64| (0.5 + level * (parts - 1.0)) / parts;
    let points: Vec<(&Vec<f64>, u32)> = paths
        .iter()
        .zip(0_u32..)
        .flat_map(|(path, number)| {
            path.points.iter().map(move |point| (point, 1 + number * REPLICATES))
        })
        .collect();
    let outputs: Option<Vec<Vec<f64>>> = points
        .par_iter()
        .map(|&(point, first)| {
            let quantiles: Vec<f64> = point.iter().map(quantile).collect();
            runs.replicates_kg(&held, &quantiles, first)
        })
        .collect();
    let outputs = outputs?;
    let mut effects = vec![Vec::with_capacity(paths.len()); inputs.len()];
    for (path, outputs) in paths.iter().zip(outputs.chunks(inputs.len() + 1)) {
        for (step, &(input, by)) in outputs.windows(2).zip(&path.moved) {
            effects[input].extend(ElementaryEffect::from_outputs(&step[0], &step[1], by));
        }
    }
    let screened = inputs.iter().zip(&effects).map(|(input, effects)| {
        let effects = EffectSummary::from_effects(effects)?;
        Some(ScreenedInput {
            key: input.key.clone(),
            description: input.description.clone(),
            unit: input.unit.clone(),
            low: input.quantile(0.025),
            high: input.quantile(0.975),
            mean_kg: effects.mean,
            mean_se_kg: effects.se,
            mean_absolute_kg: effects.mean_absolute,
            spread_kg: effects.spread,
            effect_kg: effects.size,
            noise_kg: effects.noise,
        })
    });
    let mut screened = screened.collect::<Option<Vec<ScreenedInput>>>()?;
    // The sort is stable: inputs without an effect beyond noise keep the order of the books.
    screened.sort_by(|a, b| b.effect_kg.total_cmp(&a.effect_kg));
    Some(screened)
}
