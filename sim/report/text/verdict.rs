//! The verdict in plain sentences, which never claim more than the intervals allow.

use crate::report::format::{counted, interval_ends, is_shown_as_zero, one_line, percent, weight};
use crate::report::view::{PairView, by_weight};
use crate::scenario::Units;
use crate::stats::{Interval, Verdict};
use crate::study::{Comparison, PlanResult};

/// With fewer days a verdict is said to be early.
pub(super) const MIN_DAYS_FOR_VERDICT: u32 = 50;
/// Neighbours in rank are compared as well if there are at most this many plans.
const MAX_PLANS_WITH_NEIGHBOURS: usize = 4;

/// A sentence for each pair that matters.
///
/// The heaviest plan against each other one; with few plans also neighbours in rank that differ clearly, if that does
/// not follow from how they compare with the heaviest.
///
/// A plan *beats* another only if the 95 % interval of the paired difference lies above zero, and is *level* with it
/// only if that interval lies within the margin.
pub fn verdict(comparison: &Comparison, units: Units) -> Vec<String> {
    let ranked = by_weight(comparison);
    let Some((&best, others)) = ranked.split_first() else {
        return Vec::new();
    };
    let against_best = others.iter().filter_map(|other| PairView::new(comparison, best, other));
    let neighbours = others
        .windows(2)
        .filter(|_| ranked.len() <= MAX_PLANS_WITH_NEIGHBOURS)
        .filter(|pair| intervals_overlap(comparison, best, pair[0], pair[1]))
        .filter_map(|pair| PairView::new(comparison, pair[0], pair[1]))
        .filter(PairView::is_clearly_ahead);
    let (days, margin_kg) = (comparison.days, comparison.rule.margin_kg);
    let pairs = against_best.chain(neighbours);
    pairs.map(|pair| sentence(&pair, days, margin_kg, units)).collect()
}

/// That so few days say little, whatever the intervals say. `None` if there are enough days, or nothing to compare.
pub fn early_sentence(comparison: &Comparison) -> Option<String> {
    let is_early = comparison.days < MIN_DAYS_FOR_VERDICT && comparison.plans.len() > 1;
    is_early.then(|| format!("{} so far: too early to say.", counted(comparison.days, "day")))
}

/// Whether the intervals of `best` against two others overlap, so that they do not rank these two.
fn intervals_overlap(
    comparison: &Comparison,
    best: &PlanResult,
    second: &PlanResult,
    third: &PlanResult,
) -> bool {
    PairView::new(comparison, best, second).zip(PairView::new(comparison, best, third)).is_none_or(
        |(second, third)| {
            let interval = |pair: &PairView<'_>| pair.result.difference_kg.interval;
            let intervals = interval(&second).zip(interval(&third));
            intervals.is_some_and(|(second, third)| second.high >= third.low)
        },
    )
}

/// The verdict on one pair.
fn sentence(pair: &PairView<'_>, days: u32, margin_kg: f64, units: Units) -> String {
    let (first, second) = (one_line(&pair.first.name), one_line(&pair.second.name));
    let result = &pair.result;
    if result.tie_share >= 1.0 {
        let days = days_with(result.tie_share, days);
        return format!("{first} and {second} are exactly level: the same weight on {days}.");
    }
    let ties = match result.tie_share {
        share if share > 0.0 => format!(", level on {}", percent(share)),
        _ => String::new(),
    };
    let ahead = days_with(result.a_ahead_share, days);
    let interval = interval_words(result.difference_kg.interval, units);
    if pair.is_clearly_ahead() {
        let ahead_on = if result.a_ahead_share < 0.5 { "but ahead on only" } else { "ahead on" };
        let by = weight(pair.mean_kg(), units);
        if days < MIN_DAYS_FOR_VERDICT {
            return format!(
                "So far {first} is {by} a session ahead of {second} ({interval}); {ahead_on} {ahead}{ties}."
            );
        }
        return format!(
            "{first} beats {second} by {by} a session ({interval}); {ahead_on} {ahead}{ties}."
        );
    }
    if result.verdict == Verdict::Equivalent {
        let margin = weight(margin_kg, units);
        return format!(
            "{first} and {second} are level: their means differ by less than {margin} a session ({interval}); {first} \
             was heavier on {ahead}{ties}."
        );
    }
    let difference = if is_shown_as_zero(pair.mean_kg(), units) {
        format!("{first} and {second} have the same mean weight")
    } else {
        let by = weight(pair.mean_kg().abs(), units);
        format!("on average {first} is {by} a session ahead of {second}")
    };
    format!("Too close to call: {difference} ({interval}); {first} was heavier on {ahead}{ties}.")
}

/// A share of the days in words.
fn days_with(share: f64, days: u32) -> String {
    match (share >= 1.0, days) {
        (true, 1) => "the one day fished".to_owned(),
        (false, 1) => format!("{} of the one day fished", percent(share)),
        (true, _) => format!("every one of the same {}", counted(days, "day")),
        (false, _) => format!("{} of the same {}", percent(share), counted(days, "day")),
    }
}

/// The interval of the mean difference in words.
pub(super) fn interval_words(interval_kg: Option<Interval>, units: Units) -> String {
    match interval_kg {
        None => "too few days to say how sure".to_owned(),
        interval_kg => {
            let ends = interval_ends(interval_kg, |kg| interval_end(kg, units));
            format!("95\u{a0}% sure: {ends}")
        }
    }
}

/// One end of an interval; if it rounds to zero, the side of zero on which it lies.
fn interval_end(kg: f64, units: Units) -> String {
    match is_shown_as_zero(kg, units) {
        true if kg > 0.0 => "just above 0".to_owned(),
        true if kg < 0.0 => "just below 0".to_owned(),
        _ => weight(kg, units),
    }
}
