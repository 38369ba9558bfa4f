//! The best of a few points: Kim and Nelson's procedure if the budget suffices, otherwise OCBA.

use super::candidate::{Candidate, GridPoint, Simulator, extend, rank};
use super::kim_nelson::Screening;
use super::ocba::{ocba_shares, round_shares};

/// Days simulated for each candidate before any decision.
const FIRST_DAYS: u32 = 20;
/// Number of steps in which OCBA spends the budget.
const OCBA_STEPS: u32 = 20;

/// Procedure by which a small set was decided.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Procedure {
    /// Kim and Nelson's procedure; it ran to its end.
    KimNelson,
    /// OCBA: more of the budget where the choice is close or noisy.
    Ocba,
}

/// Chooses among a few points, all simulated from `first_day` on; the winner comes first. `None` if it was stopped.
///
/// Kim and Nelson's procedure finds, with probability 95 %, the best point or one within the indifference zone of it.
/// `indifference` gives that zone from the largest mean of the first days. On common days the procedure needs few
/// trials, but their number is not known in advance. It is used if `max_trials` covers its worst case; otherwise OCBA
/// spends `max_trials`. All candidates with values are added to `simulated`.
pub(super) fn choose_from_small_set(
    points: Vec<GridPoint>,
    max_trials: u32,
    first_day: u32,
    indifference: impl Fn(f64) -> f64,
    simulator: &mut impl Simulator,
    simulated: &mut Vec<Candidate>,
) -> Option<(Vec<Candidate>, Procedure)> {
    let mut candidates: Vec<Candidate> =
        points.into_iter().map(|point| Candidate::new(point, first_day)).collect();
    let procedure = choose(&mut candidates, max_trials, indifference, simulator);
    simulated.extend(candidates.iter().filter(|candidate| !candidate.values.is_empty()).cloned());
    Some((candidates, procedure?))
}

/// Puts the winner first; returns by which procedure.
fn choose(
    candidates: &mut Vec<Candidate>,
    max_trials: u32,
    indifference: impl Fn(f64) -> f64,
    simulator: &mut impl Simulator,
) -> Option<Procedure> {
    let k = candidates.len() as u32;
    let first_days = FIRST_DAYS.min(max_trials / k).max(2);
    let first = vec![first_days; candidates.len()];
    extend(candidates, &first, simulator)?;
    let best = candidates.iter().map(Candidate::mean).fold(f64::NEG_INFINITY, f64::max);
    let indifference_zone = indifference(best);
    if candidates.len() == 1 {
        return Some(Procedure::KimNelson);
    }
    if indifference_zone > 0.0 {
        let screening = Screening::new(candidates, indifference_zone);
        if f64::from(k) * screening.max_days() <= f64::from(max_trials) {
            screening.run(candidates, simulator)?;
            return Some(Procedure::KimNelson);
        }
    }
    spend_by_ocba(candidates, max_trials, simulator)?;
    rank(candidates);
    Some(Procedure::Ocba)
}

/// Spends the budget in steps. Each step moves towards the optimal allocation by the means and variances so far.
fn spend_by_ocba(
    candidates: &mut [Candidate],
    max_trials: u32,
    simulator: &mut impl Simulator,
) -> Option<()> {
    let step = (max_trials / OCBA_STEPS).max(1);
    loop {
        let spent: u32 = candidates.iter().map(|candidate| candidate.values.len() as u32).sum();
        let next = step.min(max_trials.saturating_sub(spent));
        if next == 0 {
            return Some(());
        }
        let summaries: Vec<_> = candidates.iter().map(Candidate::summary).collect();
        let means: Vec<f64> = candidates.iter().map(Candidate::mean).collect();
        let variances: Vec<f64> =
            summaries.iter().map(|summary| summary.variance().unwrap_or(0.0)).collect();
        let shares = ocba_shares(&means, &variances, f64::from(spent + next));
        let missing: Vec<f64> = shares
            .iter()
            .zip(candidates.iter())
            .map(|(share, candidate)| (share - candidate.values.len() as f64).max(0.0))
            .collect();
        let all_missing: f64 = missing.iter().sum();
        let step_shares: Vec<f64> =
            missing.iter().map(|trials| f64::from(next) * trials / all_missing).collect();
        extend(candidates, &round_shares(&step_shares), simulator)?;
    }
}
