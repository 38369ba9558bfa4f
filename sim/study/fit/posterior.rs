//! What simulated logs say of the unknowns behind a log.

use super::simulated_table::SimulatedCase;
use crate::stats::{AdjustedPosterior, ReferenceTable, share_at_least_as_far};

/// Largest number of unknowns that are fitted; the others keep their priors.
const MAX_FITTED: usize = 8;
/// Draws of a learned book.
const DRAWS: usize = 200;
/// Share of the simulated logs that is accepted, the nearest ones.
const ACCEPTED_SHARE: f64 = 0.15;
/// Fewest accepted logs for each fitted unknown and the regression's constant.
const MIN_ACCEPTED_EACH: usize = 40;
/// Scores beyond which the range of an unknown ends.
const MAX_SCORE: f64 = 2.0;
/// The model can make a log if at least this share of simulated logs is as unusual.
const MIN_UNUSUAL_SHARE: f64 = 0.005;
/// How far a summary may lie outside those of all simulated logs, as a share of their range.
const MAX_OUTSIDE: f64 = 0.1;

/// The unknowns behind a log, as far as simulated logs say.
#[derive(Clone, Debug, PartialEq)]
pub struct UnknownsPosterior {
    /// The unknowns that were fitted, by their place, those that the log tells most of first.
    pub fitted: Vec<usize>,
    /// Their scores.
    pub posterior: AdjustedPosterior,
    /// Share of simulated logs that are at least as unusual as the observed one.
    pub unusual_share: f64,
}

/// Why nothing was fitted.
#[derive(Clone, Debug, PartialEq)]
pub enum Misfit {
    /// These summaries, by their place, lie outside what simulated logs have: observed, lowest, highest.
    Outside(Vec<(usize, [f64; 3])>),
    /// No simulated log comes near, although each summary by itself is usual: share as unusual.
    Unusual(f64),
    /// Simulated logs are the same whatever the unknowns are, or there are too few.
    Silent,
}

/// Fits the unknowns to observed summaries.
///
/// # Errors
///
/// [`Misfit`] if the model does not make such a log, or simulated logs say nothing.
pub fn unknowns_posterior(
    cases: &[SimulatedCase],
    observed: &[f64],
) -> Result<UnknownsPosterior, Misfit> {
    let summaries: Vec<Vec<f64>> = cases.iter().map(|case| case.summaries.clone()).collect();
    let outside = outside(&summaries, observed);
    if !outside.is_empty() {
        return Err(Misfit::Outside(outside));
    }
    let unusual_share = share_at_least_as_far(&summaries, observed);
    if unusual_share < MIN_UNUSUAL_SHARE {
        return Err(Misfit::Unusual(unusual_share));
    }
    let fitted = fitted_unknowns(cases, &summaries);
    let parameters =
        cases.iter().map(|case| fitted.iter().map(|&at| case.scores[at]).collect()).collect();
    let table = ReferenceTable { parameters, summaries };
    let accepted = (ACCEPTED_SHARE * cases.len() as f64) as usize;
    let accepted = accepted.max(MIN_ACCEPTED_EACH * (fitted.len() + 1));
    let mut posterior = table.posterior(observed, accepted).ok_or(Misfit::Silent)?;
    for row in &mut posterior.parameters {
        row.iter_mut().for_each(|score| *score = score.clamp(-MAX_SCORE, MAX_SCORE));
    }
    if fitted.is_empty() {
        Err(Misfit::Silent)
    } else {
        Ok(UnknownsPosterior { fitted, posterior, unusual_share })
    }
}

impl UnknownsPosterior {
    /// Draws of the fitted unknowns' scores, all equally likely.
    pub(super) fn draws(&self) -> Vec<Vec<f64>> {
        let rows = self.posterior.resampled(DRAWS);
        rows.into_iter().map(|row| self.posterior.parameters[row].clone()).collect()
    }
}

/// The unknowns of which the summaries tell more than chance would, those they tell most of first.
///
/// With p summaries and n logs, chance alone explains a share of about p/n with a standard deviation of √(2p)/n.
fn fitted_unknowns(cases: &[SimulatedCase], summaries: &[Vec<f64>]) -> Vec<usize> {
    let parameters = cases.iter().map(|case| case.scores.clone()).collect();
    let table = ReferenceTable { parameters, summaries: summaries.to_vec() };
    let n = cases.len() as f64;
    let p = summaries.first().map_or(0, Vec::len) as f64;
    let by_chance = (p + 4.0 * (2.0 * p).sqrt()) / n;
    let shares = table.regressions().into_iter().map(|fit| fit.explained_share);
    let mut explained: Vec<(usize, f64)> =
        shares.enumerate().filter(|(_, share)| *share > by_chance).collect();
    explained.sort_by(|a, b| b.1.total_cmp(&a.1));
    explained.into_iter().take(MAX_FITTED).map(|(at, _)| at).collect()
}

/// Summaries that lie clearly outside those of all simulated logs.
fn outside(summaries: &[Vec<f64>], observed: &[f64]) -> Vec<(usize, [f64; 3])> {
    let range = |at: usize| {
        let values = summaries.iter().map(|row| row[at]);
        values.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], value| {
            [low.min(value), high.max(value)]
        })
    };
    observed
        .iter()
        .enumerate()
        .filter_map(|(at, &seen)| {
            let [low, high] = range(at);
            let slack = MAX_OUTSIDE * (high - low) + 1e-9;
            (seen < low - slack || seen > high + slack).then_some((at, [seen, low, high]))
        })
        .collect()
}
