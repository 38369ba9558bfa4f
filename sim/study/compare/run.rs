//! Compares plans on the same days, for a fixed number of days or until every verdict is clear.

use super::accumulate::Scoreboard;
use super::aims::aims;
use super::inference::{interim_analyses, margin_kg, rule};
use super::result::{Comparison, StopReason, VerdictRule};
use super::warning_checks::warnings;
use crate::scenario::Scenario;
use crate::study::progress::Control;
use crate::study::replicate::{DayOutcomes, replicate};
use crate::study::stamp::Stamp;

/// Fishes every plan on days 1 to `days` of a seed and compares the plans.
///
/// `each_day` is called with the days in order. If the run is stopped early, the comparison covers the days done so
/// far, exactly as if only these had been requested; its number of days shows it.
///
/// # Errors
///
/// The first error of `each_day`.
pub fn compare<E>(
    scenario: &Scenario,
    seed: u64,
    days: u32,
    control: Control<'_>,
    mut each_day: impl FnMut(&DayOutcomes) -> Result<(), E>,
) -> Result<Comparison, E> {
    let mut board = Scoreboard::new(scenario);
    replicate(scenario, seed, 1..=days, control, |day| {
        board.add(day);
        each_day(day)
    })?;
    Ok(comparison(scenario, seed, &board))
}

/// How a run of a comparison ended.
#[derive(Clone, Debug, PartialEq)]
pub enum CompareResult {
    /// All days are done: those requested, or those until every verdict was clear or the limit was reached.
    Done(Box<Comparison>),
    /// It was stopped from outside before that.
    Interrupted {
        /// Days done so far.
        days: u32,
    },
}

/// Fishes every plan on days 1, 2, … of a seed until the verdict on the heaviest plan is clear against every other
/// plan (better, or equivalent within the margin), or until `limit_days` are done.
///
/// Interim analyses happen after 200 days and after each doubling, and nowhere between. An error of 5 % is split
/// evenly over all analyses and all pairs of plans, so that the probability that no verdict is false is at least
/// 95 %, at any analysis at which the run stops.
///
/// # Errors
///
/// The first error of `each_day`.
///
/// # Panics
///
/// If `limit_days` is below two, which is the minimum for an interval.
pub fn compare_until_clear<E>(
    scenario: &Scenario,
    seed: u64,
    limit_days: u32,
    control: Control<'_>,
    mut each_day: impl FnMut(&DayOutcomes) -> Result<(), E>,
) -> Result<CompareResult, E> {
    let mut board = Scoreboard::new(scenario);
    let analyses = interim_analyses(limit_days);
    for (analysis_days, performed) in analyses.sample_sizes().zip(1..) {
        let from = board.days() + 1;
        let sessions = u64::from(analysis_days - board.days()) * scenario.plans.len() as u64;
        control.progress.on_sessions_announced(sessions);
        let done = replicate(scenario, seed, from..=analysis_days, control, |day| {
            board.add(day);
            each_day(day)
        })?;
        if done < analysis_days {
            break;
        }
        let margin_kg = margin_kg(scenario, board.heaviest_mean_kg());
        let rule = rule(scenario.plans.len(), margin_kg, performed, analyses.count());
        let is_clear = board.is_clear(&rule);
        if is_clear || analysis_days == limit_days {
            let stopped = if is_clear { StopReason::Clear } else { StopReason::Limit };
            let comparison = by_rule(scenario, seed, &board, stopped, rule);
            return Ok(CompareResult::Done(Box::new(comparison)));
        }
    }
    Ok(CompareResult::Interrupted { days: board.days() })
}

/// Comparison of the days on a scoreboard, analysed once.
#[must_use]
pub fn comparison(scenario: &Scenario, seed: u64, board: &Scoreboard) -> Comparison {
    let margin_kg = margin_kg(scenario, board.heaviest_mean_kg());
    let rule = rule(scenario.plans.len(), margin_kg, 1, 1);
    by_rule(scenario, seed, board, StopReason::Requested, rule)
}

/// Comparison from a scoreboard, with verdicts by `rule`.
pub(in crate::study) fn by_rule(
    scenario: &Scenario,
    seed: u64,
    board: &Scoreboard,
    stopped: StopReason,
    rule: VerdictRule,
) -> Comparison {
    let plans = board.plans(scenario);
    let mut comparison = Comparison {
        format: Comparison::FORMAT,
        stamp: Stamp::from_scenario(scenario, seed),
        days: board.days(),
        stopped_because: stopped,
        pairs: board.pairs(&plans, &rule),
        plans,
        aims: aims(scenario, seed, board, &rule),
        rule,
        warnings: Vec::new(),
    };
    comparison.warnings = warnings(scenario, &comparison, board.weather());
    comparison
}
