//! Why one plan outweighs another, from measured numbers alone.
//!
//! A plan's mean weight is a product of things that were measured:
//!
//! weight = bites an hour of bait in the water × those hours × share of bites landed × mass of a fish × share
//! of the catch that counted at the scales
//!
//! so the logarithm of the ratio of two weights is the sum of the logarithms of the ratios of these five, and
//! each has its exact part in the difference. What went on in the swim and where the time went is set beside
//! the part it belongs to, as figures; no more is claimed.

use super::measures::{duration, fine_percent, number, percent, weight};
use super::ranking::{Facing, by_weight};
use super::shares::{Of, Part, parts};
use super::table::shown_name;
use crate::scenario::Units;
use crate::study::{Comparison, PlanResult};

/// Figures set beside a part must differ by this much to be named.
const BESIDE_LN: f64 = 0.1;
/// Parts of the session must differ by this much to be named.
const TIME_SHARE: f64 = 0.02;
/// Another part is named from this share of the whole difference on, whichever way it speaks.
const WORTH_SHARE: f64 = 0.25;

/// Why the best plan outweighs the nearest plan that is clearly behind it, in two sentences or three with what
/// was seen in the swim; and why it outweighs that other one which differs from it most in one part.
///
/// At most three strings. Each states the figures of both plans; nothing is said that chance could have made.
#[must_use]
pub fn reasons(comparison: &Comparison, units: Units) -> Vec<String> {
    let ranked = by_weight(comparison);
    let Some((&best, others)) = ranked.split_first() else {
        return Vec::new();
    };
    let behind: Vec<_> = others
        .iter()
        .filter_map(|other| Facing::of(comparison, best, other))
        .filter(Facing::clearly_ahead)
        .collect();
    let Some((nearest, further)) = behind.split_first() else {
        return match others {
            [] => Vec::new(),
            _ => vec![
                "No plan is clearly behind the best, so there is no difference to give reasons for."
                    .to_owned(),
            ],
        };
    };
    let days = comparison.days;
    let most_unlike = further
        .iter()
        .map(|facing| (facing, telling(facing, days)))
        .filter_map(|(facing, parts)| Some((facing, parts.first()?.ln_ratio.abs())))
        .reduce(|most, next| if next.1 > most.1 { next } else { most });
    let mut says = vec![sentence(nearest, days, units)];
    says.extend(beside(nearest, days));
    says.extend(most_unlike.map(|(facing, _)| sentence(facing, days, units)));
    says
}

/// The parts that are no chance and that matter, the one that speaks most for the heavier plan first.
fn telling(facing: &Facing<'_>, days: u32) -> Vec<Part> {
    let mut measured = parts(facing.one, facing.other, days);
    measured.retain(|part| part.ln_ratio.abs() > part.noise_ln);
    measured.sort_by(|a, b| b.ln_ratio.total_cmp(&a.ln_ratio));
    let whole_ln = (facing.one.weight_kg.mean / facing.other.weight_kg.mean).ln();
    let strongest = measured.first().map_or(0.0, |part| part.ln_ratio);
    let worth = |part: &Part| part.ln_ratio.abs() >= (WORTH_SHARE * whole_ln).min(strongest);
    measured.retain(worth);
    measured
}

/// Why the one outweighs the other: the two parts that speak most for it, and the one that speaks most against.
fn sentence(facing: &Facing<'_>, days: u32, units: Units) -> String {
    let parts = telling(facing, days);
    let other = shown_name(&facing.other.name);
    let with: Vec<_> = parts.iter().filter(|part| part.ln_ratio > 0.0).take(2).collect();
    let against = parts.last().filter(|part| part.ln_ratio < 0.0);
    if with.is_empty() {
        return format!(
            "{} and {other} differ in weight, but no one part of the difference stands out from chance.",
            shown_name(&facing.one.name)
        );
    }
    let mut says = format!("{}: ", shown_name(&facing.one.name));
    for (at, part) in with.into_iter().enumerate() {
        says += if at > 0 { " And " } else { "" };
        says += &format!("{}.", stated(part, &other, units, at == 0));
    }
    if let Some(part) = against {
        says += &format!(" Against that, {}.", stated(part, &other, units, false));
    }
    says
}

/// The figures of both plans for one part, and what it comes to by itself.
fn stated(part: &Part, other: &str, units: Units, is_first: bool) -> String {
    let (x, y) = part.values;
    let figures = match part.of {
        Of::BitesPerHour => format!(
            "{} bites for each hour its bait was in the water, {other} {}",
            number(x),
            number(y)
        ),
        Of::HoursInWater => format!(
            "bait in the water for {}, {other} {}",
            duration(3600.0 * x),
            duration(3600.0 * y)
        ),
        Of::Landed => format!("{} of its bites landed, {other} {}", percent(x), percent(y)),
        Of::FishKg => {
            format!("an average fish of {}, {other} {}", weight(x, units), weight(y, units))
        }
        Of::Counted => {
            format!("{} of its catch counted, {other} {}", percent(x), percent(y))
        }
    };
    let (alone, of_weight) =
        if is_first { ("that alone makes ", " weight") } else { ("alone ", "") };
    match 100.0 * part.ln_ratio.exp_m1() {
        change if !change.is_finite() => figures,
        change if change >= 100.0 => {
            let times = number(part.ln_ratio.exp());
            format!("{figures}; {alone}{times} times the weight")
        }
        change if change > 0.0 => format!("{figures}; {alone}{change:.0} % more{of_weight}"),
        change => format!("{figures}; {alone}{:.0} % less{of_weight}", -change),
    }
}

/// What was seen in the swim or on the clock that goes with the part which speaks most for the heavier plan.
fn beside(facing: &Facing<'_>, days: u32) -> Option<String> {
    let first = telling(facing, days).into_iter().find(|part| part.ln_ratio > 0.0)?;
    let (one, other) = (facing.one, facing.other);
    match first.of {
        Of::BitesPerHour => swim_beside(one, other),
        Of::HoursInWater => time_beside(one, other),
        _ => None,
    }
}

/// What was seen in the swim: up to two figures that point the way of the weights, and one that points the
/// other way if it differs about as much.
fn swim_beside(one: &PlanResult, other: &PlanResult) -> Option<String> {
    let (s, t) = (&one.swim, &other.swim);
    let ln = |x: f64, y: f64| if x > 0.0 || y > 0.0 { (x / y).ln() } else { 0.0 };
    let mut seen = [
        (
            ln(s.fish_on_line, t.fish_on_line),
            format!(
                "{} fish feeding on the line at a time ({})",
                number(s.fish_on_line),
                number(t.fish_on_line)
            ),
        ),
        (
            ln(s.hookbait_share_of_mouthfuls, t.hookbait_share_of_mouthfuls),
            format!(
                "the hookbait {} of the mouthfuls round it ({})",
                fine_percent(s.hookbait_share_of_mouthfuls),
                fine_percent(t.hookbait_share_of_mouthfuls)
            ),
        ),
        (
            ln(s.taken_share, t.taken_share),
            format!(
                "the hookbait taken at {} of meetings with a fish ({})",
                fine_percent(s.taken_share),
                fine_percent(t.taken_share)
            ),
        ),
        (
            ln(s.hookbait_there_share, t.hookbait_there_share),
            format!(
                "a hookbait on offer {} of the time in the water ({})",
                fine_percent(s.hookbait_there_share),
                fine_percent(t.hookbait_there_share)
            ),
        ),
        (
            -ln(s.scared.max(0.1), t.scared.max(0.1)),
            format!("{} fish frightened a session ({})", number(s.scared), number(t.scared)),
        ),
    ];
    seen.sort_by(|a, b| b.0.total_cmp(&a.0));
    let with: Vec<_> = seen.iter().filter(|(ln, _)| *ln >= BESIDE_LN).take(2).collect();
    let strongest = with.first().map_or(BESIDE_LN, |(ln, _)| *ln);
    let against = seen.last().filter(|(ln, _)| *ln <= -BESIDE_LN && -ln >= 0.5 * strongest);
    let mut figures: Vec<_> = with.iter().map(|(_, figure)| figure.clone()).collect();
    figures.extend(against.map(|(_, figure)| format!("but {figure}")));
    spoken("In the swim", one, other, &figures)
}

/// Where the time went that the other plan did not fish.
fn time_beside(one: &PlanResult, other: &PlanResult) -> Option<String> {
    let (s, t) = (&one.time_share, &other.time_share);
    let mut spent = [
        ("casting", s.casting, t.casting),
        ("playing fish", s.playing, t.playing),
        ("rebaiting", s.rebaiting, t.rebaiting),
        ("loose feeding", s.feeding, t.feeding),
        ("snags and idle time", s.other, t.other),
    ];
    spent.sort_by(|a, b| (b.2 - b.1).total_cmp(&(a.2 - a.1)));
    let figures: Vec<_> = spent
        .iter()
        .filter(|(_, x, y)| y - x >= TIME_SHARE)
        .take(2)
        .map(|(what, x, y)| format!("{what} {} ({})", percent(*x), percent(*y)))
        .collect();
    spoken("Of the session", one, other, &figures)
}

/// Figures of the one with those of the other in brackets, as a sentence; none without figures.
fn spoken(
    where_: &str,
    one: &PlanResult,
    other: &PlanResult,
    figures: &[String],
) -> Option<String> {
    let (one, other) = (shown_name(&one.name), shown_name(&other.name));
    let figures = figures.join(", ");
    (!figures.is_empty()).then(|| format!("{where_} with {one} ({other} in brackets): {figures}."))
}
