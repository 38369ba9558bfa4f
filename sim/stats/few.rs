//! The best of a few points: by Kim and Nelson's procedure where the trials last, else by optimal shares.

use super::contender::{Contender, Point, Trials, rank, try_more};
use super::kn::Screening;
use super::ocba::{optimal_shares, whole_shares};

/// Days on which each is tried before anything is decided.
const FIRST_DAYS: u32 = 20;
/// Into how many steps the trials are cut where they are shared out.
const STEPS: u32 = 20;

/// How a choice among few was made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fewer {
    /// Kim and Nelson's procedure ran to its end.
    Screened,
    /// Trials went where the choice was close or noisy.
    Shared,
}

/// Chooses among few points, all tried from `first_day` on; the winner comes first.
///
/// Kim and Nelson's procedure promises, with 95 %, a plan that is the best or within `indifference` of it (given the
/// largest mean of the first days), and on shared days needs few trials; but how many is not known before. So it is
/// taken where even the most that it can need are at hand. Otherwise a number of trials is shared out as they tell
/// most.
pub(super) fn choose_among_few(
    points: Vec<Point>,
    trials_at_most: u32,
    first_day: u32,
    indifference: impl Fn(f64) -> f64,
    trials: &mut impl Trials,
    seen: &mut Vec<Contender>,
) -> Option<(Vec<Contender>, Fewer)> {
    let mut contenders: Vec<Contender> =
        points.into_iter().map(|point| Contender::new(point, first_day)).collect();
    let chosen = choose(&mut contenders, trials_at_most, indifference, trials);
    seen.extend(contenders.iter().filter(|one| !one.values.is_empty()).cloned());
    Some((contenders, chosen?))
}

fn choose(
    contenders: &mut Vec<Contender>,
    trials_at_most: u32,
    indifference: impl Fn(f64) -> f64,
    trials: &mut impl Trials,
) -> Option<Fewer> {
    let k = contenders.len() as u32;
    let first_days = FIRST_DAYS.min(trials_at_most / k).max(2);
    let first = vec![first_days; contenders.len()];
    try_more(contenders, &first, trials)?;
    let best = contenders.iter().map(Contender::mean).fold(f64::NEG_INFINITY, f64::max);
    let worth = indifference(best);
    if contenders.len() == 1 {
        return Some(Fewer::Screened);
    }
    if worth > 0.0 {
        let screening = Screening::new(contenders, worth);
        if f64::from(k) * screening.most_days() <= f64::from(trials_at_most) {
            screening.run(contenders, trials)?;
            return Some(Fewer::Screened);
        }
    }
    share_out(contenders, trials_at_most, trials)?;
    rank(contenders);
    Some(Fewer::Shared)
}

/// Spends the trials in steps, each as the means and spreads so far would have the whole shared.
fn share_out(
    contenders: &mut [Contender],
    trials_at_most: u32,
    trials: &mut impl Trials,
) -> Option<()> {
    let step = (trials_at_most / STEPS).max(1);
    loop {
        let spent: u32 = contenders.iter().map(|one| one.values.len() as u32).sum();
        let next = step.min(trials_at_most.saturating_sub(spent));
        if next == 0 {
            return Some(());
        }
        let summaries: Vec<_> = contenders.iter().map(Contender::summary).collect();
        let means: Vec<f64> = contenders.iter().map(Contender::mean).collect();
        let variances: Vec<f64> =
            summaries.iter().map(|summary| summary.variance().unwrap_or(0.0)).collect();
        let shares = optimal_shares(&means, &variances, f64::from(spent + next));
        let wanted: Vec<f64> = shares
            .iter()
            .zip(contenders.iter())
            .map(|(share, one)| (share - one.values.len() as f64).max(0.0))
            .collect();
        let all_wanted: f64 = wanted.iter().sum();
        let step_shares: Vec<f64> =
            wanted.iter().map(|one| f64::from(next) * one / all_wanted).collect();
        try_more(contenders, &whole_shares(&step_shares), trials)?;
    }
}
