//! Fishes every water on its own days, for a fixed number of days or until the verdict is clear.

use super::pairs::{is_clear, pairs, plans_of};
use super::result::{WatersComparison, WatersOutcome};
use crate::scenario::Scenario;
use crate::study::compare::{
    Compare, Comparison, Scoreboard, StopReason, VerdictRule, by_rule, default_margin_kg,
    interim_analyses, rule,
};
use crate::study::progress::Control;
use crate::study::replicate::{DayOutcomes, replicate};

/// What is fished: the scenarios, the seed of the first one, and the days.
#[derive(Clone, Copy, Debug)]
pub(super) struct WatersRun<'a> {
    pub(super) scenarios: &'a [Scenario],
    pub(super) seed: u64,
    /// Exactly these days; `None` until the verdict is clear.
    pub(super) days: Option<u32>,
}

impl WatersRun<'_> {
    /// Seed of the scenario with an index: greater by one than that of the scenario before it.
    pub(super) fn seed_of(&self, index: usize) -> u64 {
        self.seed.wrapping_add(index as u64)
    }
}

/// Days that are fished on one water before the next one has its turn.
const BLOCK_DAYS: u32 = 200;

/// Runs a comparison across waters.
pub(super) fn run<E>(
    comparing: WatersRun<'_>,
    control: Control<'_>,
    mut each_day: impl FnMut(usize, &DayOutcomes) -> Result<(), E>,
) -> Result<WatersOutcome, E> {
    let mut boards: Vec<Scoreboard> = comparing.scenarios.iter().map(Scoreboard::new).collect();
    let plans = plans_of(comparing.scenarios);
    let (sizes, max_analyses): (Vec<u32>, u32) = match comparing.days {
        Some(days) => (vec![days], 1),
        None => {
            let analyses = interim_analyses(Compare::LIMIT_DAYS);
            (analyses.sample_sizes().collect(), analyses.count())
        }
    };
    for (&until, performed) in sizes.iter().zip(1..) {
        if comparing.days.is_none() {
            let from = boards.first().map_or(0, Scoreboard::days);
            control.progress.on_sessions_announced(u64::from(until - from) * plans.len() as u64);
        }
        if !fish_until(comparing, until, &mut boards, control, &mut each_day)? {
            let days = boards.iter().map(Scoreboard::days).min().unwrap_or(0);
            return Ok(WatersOutcome::Interrupted { days });
        }
        let rule = rule(plans.len(), margin_kg(comparing, &boards), performed, max_analyses);
        let is_clear = comparing.days.is_none() && is_clear(&boards, &plans, &rule);
        if is_clear || sizes.last() == Some(&until) {
            let stopped = match comparing.days {
                Some(_) => StopReason::Requested,
                None if is_clear => StopReason::Clear,
                None => StopReason::Limit,
            };
            return Ok(WatersOutcome::Done(Box::new(result(comparing, &boards, stopped, rule))));
        }
    }
    Ok(WatersOutcome::Interrupted { days: 0 })
}

/// Fishes the days up to `until` that are missing, in blocks. Returns false if the study was stopped.
fn fish_until<E>(
    comparing: WatersRun<'_>,
    until: u32,
    boards: &mut [Scoreboard],
    control: Control<'_>,
    each_day: &mut impl FnMut(usize, &DayOutcomes) -> Result<(), E>,
) -> Result<bool, E> {
    let mut done = boards.first().map_or(until, Scoreboard::days);
    while done < until {
        let last = (done + BLOCK_DAYS).min(until);
        for (index, (scenario, board)) in comparing.scenarios.iter().zip(&mut *boards).enumerate() {
            let seed = comparing.seed_of(index);
            let reached = replicate(scenario, seed, done + 1..=last, control, |day| {
                board.add(day);
                each_day(index, day)
            })?;
            if reached < last {
                return Ok(false);
            }
        }
        done = last;
    }
    Ok(true)
}

/// Margin within which plans are level [kg]: the largest that a scenario sets, or else a share of the heaviest mean.
fn margin_kg(comparing: WatersRun<'_>, boards: &[Scoreboard]) -> f64 {
    let margins_kg = comparing.scenarios.iter().filter_map(|scenario| scenario.aims.margin_kg);
    margins_kg.reduce(f64::max).unwrap_or_else(|| {
        default_margin_kg(boards.iter().map(Scoreboard::heaviest_mean_kg).fold(0.0, f64::max))
    })
}

/// The comparison of the days on the scoreboards.
fn result(
    comparing: WatersRun<'_>,
    boards: &[Scoreboard],
    stopped: StopReason,
    rule: VerdictRule,
) -> WatersComparison {
    let waters: Vec<Comparison> = comparing
        .scenarios
        .iter()
        .zip(boards)
        .enumerate()
        .map(|(index, (scenario, board))| {
            by_rule(scenario, comparing.seed_of(index), board, stopped, rule)
        })
        .collect();
    WatersComparison {
        format: WatersComparison::FORMAT,
        seed: comparing.seed,
        days: boards.iter().map(Scoreboard::days).min().unwrap_or(0),
        stopped_because: stopped,
        rule,
        pairs: pairs(boards, &waters, &plans_of(comparing.scenarios), &rule),
        waters,
    }
}
