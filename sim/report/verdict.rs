//! Verdicts in plain sentences, never more than the intervals allow.

use super::measures::{percent, weight};
use super::ranking::{Facing, by_weight};
use super::table::shown_name;
use crate::scenario::Units;
use crate::stats::Standing;
use crate::study::{Comparison, PlanResult};

/// Most plans for which neighbours in rank are also compared.
const NEIGHBOURS_UP_TO: usize = 4;

/// A sentence for each pair that matters: the heaviest plan against every other; then, where plans are few,
/// neighbours in rank that differ clearly where that does not show in how they stand to the heaviest.
///
/// A plan *beats* another only where the 95 % interval of the paired difference lies above zero, and is *level* with
/// it only where that interval lies within the margin.
#[must_use]
pub fn verdict(comparison: &Comparison, units: Units) -> Vec<String> {
    let ranked = by_weight(comparison);
    let Some((&best, others)) = ranked.split_first() else {
        return Vec::new();
    };
    let against_best = others.iter().filter_map(|other| Facing::of(comparison, best, other));
    let neighbours = others
        .windows(2)
        .filter(|_| ranked.len() <= NEIGHBOURS_UP_TO)
        .filter(|two| is_open(comparison, best, two[0], two[1]))
        .filter_map(|two| Facing::of(comparison, two[0], two[1]))
        .filter(Facing::clearly_ahead);
    let (days, margin_kg) = (comparison.days, comparison.rule.margin_kg);
    let all = against_best.chain(neighbours);
    all.map(|facing| sentence(&facing, days, margin_kg, units)).collect()
}

/// Whether the intervals of `best` against two others overlap, so that they do not tell the two apart.
fn is_open(
    comparison: &Comparison,
    best: &PlanResult,
    one: &PlanResult,
    other: &PlanResult,
) -> bool {
    Facing::of(comparison, best, one)
        .zip(Facing::of(comparison, best, other))
        .is_none_or(|(one, other)| one.high_kg >= other.low_kg)
}

/// The verdict on one pair.
fn sentence(facing: &Facing<'_>, days: u32, margin_kg: f64, units: Units) -> String {
    let (one, other) = (shown_name(&facing.one.name), shown_name(&facing.other.name));
    let on_days = match days {
        1 => "the one day fished".to_owned(),
        days => format!("the same {days} days"),
    };
    let every = |share: f64| match (share >= 1.0, days) {
        (true, 1) => on_days.clone(),
        (true, _) => format!("every one of {on_days}"),
        (false, _) => format!("{} of {on_days}", percent(share)),
    };
    if facing.tie_share >= 1.0 {
        let days = every(facing.tie_share);
        return format!("{one} and {other} come out exactly level: the same weight on {days}.");
    }
    let level = if facing.tie_share > 0.0 {
        format!(", level on {}", percent(facing.tie_share))
    } else {
        String::new()
    };
    let ahead = every(facing.ahead_share);
    if facing.clearly_ahead() {
        let yet = if facing.ahead_share < 0.5 { "yet ahead on only" } else { "ahead on" };
        return format!(
            "{one} beats {other} by {} a session ({}); {yet} {ahead}{level}.",
            weight(facing.mean_kg, units),
            interval(facing, units),
        );
    }
    if facing.verdict == Standing::Level {
        return format!(
            "{one} and {other} are level: they differ by less than {} a session ({}); {one} was heavier on {ahead}{level}.",
            weight(margin_kg, units),
            interval(facing, units),
        );
    }
    let gap = match weight(facing.mean_kg.abs(), units) {
        gap if gap.starts_with("0 ") => format!("{one} and {other} have the same mean weight"),
        gap => format!("{one} is {gap} a session ahead of {other} in the mean"),
    };
    format!(
        "Too close to call: {gap} ({}); {one} was heavier on {ahead}{level}.",
        interval(facing, units),
    )
}

/// The interval in words.
fn interval(facing: &Facing<'_>, units: Units) -> String {
    if facing.low_kg.is_finite() && facing.high_kg.is_finite() {
        format!("95 % interval {} to {}", end(facing.low_kg, units), end(facing.high_kg, units))
    } else {
        "too few days for an interval".to_owned()
    }
}

/// An end of an interval; one that rounds to nought says on which side of it it lies.
fn end(kg: f64, units: Units) -> String {
    match weight(kg, units) {
        words if words.starts_with("0 ") && kg > 0.0 => "just above 0".to_owned(),
        words if words.starts_with("0 ") && kg < 0.0 => "just below 0".to_owned(),
        words => words,
    }
}
