//! What each pair of plans comes to: how sure a verdict must be, and the three ways of beating one another.

use super::result::{Beats, Chance, Rule};
use super::scoreboard::Scoreboard;
use super::weights::kg;
use crate::scenario::Scenario;
use crate::stats::{Explained, Inputs, Interval, Looks, Paired, Standing};
use crate::stats::{larger_on_separate_days, level_of_each, wilson};

/// Chance that any verdict of a comparison is false, at most.
const ERROR: f64 = 0.05;
/// Level of intervals that decide nothing.
const LEVEL: f64 = 0.95;
/// Without a margin of the scenario's own, plans nearer than this share of the heaviest mean are level.
const MARGIN_SHARE: f64 = 0.02;

/// Days after which a comparison that stops when it is clear is looked at, at first. The range, the chances and
/// the curves need as many, however clear the verdict is.
pub(super) const FIRST_LOOK_DAYS: u32 = 200;

/// Looks of a comparison that stops when it is clear, up to a limit of days.
pub(super) fn looks(limit_days: u32) -> Looks {
    Looks::new(FIRST_LOOK_DAYS.min(limit_days), limit_days)
}

/// The rule for `plans` plans after `taken` of `at_most` looks.
pub(super) fn rule(scenario: &Scenario, board: &Scoreboard, taken: u32, at_most: u32) -> Rule {
    let plans = scenario.plans.len() as u32;
    let pairs = plans * plans.saturating_sub(1) / 2;
    let margin_kg =
        scenario.aims.margin_kg.unwrap_or_else(|| MARGIN_SHARE * board.heaviest_mean_kg());
    Rule {
        error: ERROR,
        looks: taken,
        looks_at_most: at_most,
        pairs,
        level_of_each: level_of_each(ERROR, at_most, pairs),
        margin_kg,
    }
}

/// The interval for the mean difference of a pair [g], as sure as the rule asks.
pub(super) fn interval_g(pair: &Paired, rule: &Rule) -> Option<Interval> {
    pair.interval(rule.level_of_each)
}

/// How the first of a pair stands to the second in mean weight.
pub(super) fn standing(pair: &Paired, rule: &Rule) -> Standing {
    let interval_kg = interval_g(pair, rule).map(|g| Interval { low: kg(g.low), high: kg(g.high) });
    Standing::of(interval_kg, rule.margin_kg)
}

/// The three ways in which the first of a pair beats the second; each day's weights [g].
pub(super) fn beats(pair: &Paired, a_g: &[u32], b_g: &[u32], unknown: Option<&Explained>) -> Beats {
    let days = pair.differences().n();
    let same_day = wilson(pair.a_ahead() as f64, days, LEVEL);
    Beats {
        same_day: chance(
            pair.a_ahead() as f64 / days as f64,
            same_day.unwrap_or(Interval { low: 0.0, high: 1.0 }),
        ),
        two_days: larger_on_separate_days(a_g, b_g, LEVEL)
            .map(|found| chance(found.share, found.interval)),
        on_average: unknown.and_then(|unknown| {
            let differences = pair.differences();
            let found = unknown.chance_above_nought(differences.mean()?, differences.se()?, LEVEL);
            Some(chance(found.share, found.interval))
        }),
    }
}

/// How much of the differences' variance goes with the unknown, of which the first days may be all that is kept.
pub(super) fn unknown(inputs: &Inputs, a_g: &[u32], b_g: &[u32]) -> Option<Explained> {
    let days = a_g.iter().zip(b_g);
    inputs.explain(days.map(|(&a_g, &b_g)| f64::from(a_g) - f64::from(b_g)))
}

/// The share of variance that goes with the unknown, as it is written.
pub(super) fn share_of(unknown: &Explained) -> Chance {
    let found = unknown.as_share(LEVEL);
    chance(found.share, found.interval)
}

/// A share and its interval as they are written.
pub(super) fn chance(share: f64, interval: Interval) -> Chance {
    Chance { share, low95: interval.low, high95: interval.high }
}
