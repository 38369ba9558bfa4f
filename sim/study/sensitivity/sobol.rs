//! Sobol' indices: shares of the variance of the difference that the most influential inputs explain.

use rayon::prelude::*;

use super::difference::PairedRuns;
use super::effort::REPLICATES;
use crate::engine::Dice;
use crate::scenario::UncertainInput;
use crate::stats::{SaltelliOutputs, SobolIndices, saltelli_rows, sobol_indices};

/// Estimates the indices of some inputs. `None` if the study was stopped; the inner `None` if there are no inputs or
/// all variance is replicate noise.
#[expect(clippy::option_option, reason = "a stop and the absence of indices differ")]
pub(super) fn pair_sobol_indices(
    runs: &PairedRuns<'_>,
    inputs: &[&UncertainInput],
    rows: u32,
    dice: &mut Dice,
) -> Option<Option<SobolIndices>> {
    if inputs.is_empty() {
        return Some(None);
    }
    let design = saltelli_rows(rows, inputs.len(), dice);
    let outputs: Option<Vec<SaltelliOutputs>> = design
        .par_iter()
        .enumerate()
        .map(|(row, points)| {
            let first = 1 + row as u32 * REPLICATES;
            let outputs = |point: &[f64]| runs.replicates_kg(inputs, point, first);
            let mixed: Option<Vec<Vec<f64>>> =
                (0..inputs.len()).map(|input| outputs(&points.mixed(input))).collect();
            Some(SaltelliOutputs { a: outputs(&points.a)?, b: outputs(&points.b)?, mixed: mixed? })
        })
        .collect();
    Some(sobol_indices(&outputs?, dice))
}
