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

/// Most reasons for the first pair, and for a second.
const MOST: [usize; 2] = [3, 2];
/// Figures set beside a part must differ by this much to be named.
const BESIDE_LN: f64 = 0.1;
/// Parts of the session must differ by this much to be named.
const TIME_SHARE: f64 = 0.02;
/// A part that speaks the other way is named from this share of the whole difference on.
const AGAINST_SHARE: f64 = 0.25;

/// Sentences on why the best plan outweighs the nearest plan that is clearly behind it, and the last one.
///
/// Each states the figures of both plans. The parts in which the two differ most in the direction of the
/// weights come first; a part that speaks the other way is named when it is large.
#[must_use]
pub fn reasons(comparison: &Comparison, units: Units) -> Vec<String> {
    let ranked = by_weight(comparison);
    let Some((&best, others)) = ranked.split_first() else {
        return Vec::new();
    };
    let mut behind = others
        .iter()
        .filter_map(|other| Facing::of(comparison, best, other))
        .filter(Facing::clearly_ahead);
    let pairs = [behind.next(), behind.next_back()];
    if pairs[0].is_none() && !others.is_empty() {
        return vec![
            "No plan is clearly behind the best, so there is no difference to give reasons for."
                .to_owned(),
        ];
    }
    pairs
        .iter()
        .flatten()
        .zip(MOST)
        .flat_map(|(facing, most)| pair_reasons(facing, comparison.days, most, units))
        .collect()
}

/// Reasons for one pair, `most` at most.
fn pair_reasons(facing: &Facing<'_>, days: u32, most: usize, units: Units) -> Vec<String> {
    let (one, other) = (facing.one, facing.other);
    let mut measured = parts(one, other, days);
    measured.retain(|part| part.ln_ratio.abs() > part.noise_ln);
    measured.sort_by(|a, b| b.ln_ratio.total_cmp(&a.ln_ratio));
    let whole_ln = (one.weight_kg.mean / other.weight_kg.mean).ln();
    let against = measured
        .last()
        .filter(|part| part.ln_ratio < 0.0 && -part.ln_ratio >= AGAINST_SHARE * whole_ln)
        .map(|part| format!("Against that, {}.", stated(part, one, other, units)));
    let room = most - usize::from(against.is_some());
    let mut says: Vec<_> = measured
        .iter()
        .filter(|part| part.ln_ratio > 0.0)
        .take(room)
        .map(|part| {
            let beside = beside(part, one, other);
            format!("{}.{beside}", stated(part, one, other, units))
        })
        .collect();
    if says.is_empty() {
        says.push(format!(
            "{} and {} differ in weight, but no one part of the difference stands out from chance.",
            shown_name(&one.name),
            shown_name(&other.name)
        ));
    }
    says.extend(against);
    says
}

/// The figures of both plans for one part, and what it comes to by itself.
fn stated(part: &Part, one: &PlanResult, other: &PlanResult, units: Units) -> String {
    let (a, b) = (shown_name(&one.name), shown_name(&other.name));
    let (x, y) = part.values;
    let figures = match part.of {
        Of::BitesPerHour => {
            format!(
                "{a} had {} bites for each hour with bait in the water, {b} {}",
                number(x),
                number(y)
            )
        }
        Of::HoursInWater => format!(
            "{a} had bait in the water for {} of the session, {b} for {}",
            duration(3600.0 * x),
            duration(3600.0 * y)
        ),
        Of::Landed => {
            format!("{a} landed {} of its bites, {b} {}", percent(x), percent(y))
        }
        Of::FishKg => format!(
            "the average fish weighed {} with {a}, {} with {b}",
            weight(x, units),
            weight(y, units)
        ),
        Of::Counted => format!(
            "{} of what {a} landed counted at the scales, {} with {b}",
            percent(x),
            percent(y)
        ),
    };
    match 100.0 * part.ln_ratio.exp_m1() {
        change if !change.is_finite() => figures,
        change if change >= 100.0 => {
            format!("{figures}: by itself {} times the weight", number(part.ln_ratio.exp()))
        }
        change if change > 0.0 => format!("{figures}: by itself {change:.0} % more weight"),
        change => format!("{figures}: by itself {:.0} % less weight", -change),
    }
}

/// Figures of the swim or of the clock that go with a part, up to two that point its way, and one that points
/// the other way if it differs more than they do.
fn beside(part: &Part, one: &PlanResult, other: &PlanResult) -> String {
    match part.of {
        Of::BitesPerHour => swim_beside(one, other),
        Of::HoursInWater => time_beside(one, other),
        _ => String::new(),
    }
}

/// What was seen in the swim.
fn swim_beside(one: &PlanResult, other: &PlanResult) -> String {
    let (s, t) = (&one.swim, &other.swim);
    let ln = |x: f64, y: f64| if x > 0.0 || y > 0.0 { (x / y).ln() } else { 0.0 };
    let share = |x: f64, y: f64| format!("{} against {}", fine_percent(x), fine_percent(y));
    let count = |x: f64, y: f64| format!("{} against {}", number(x), number(y));
    let mut seen = [
        (
            ln(s.fish_on_line, t.fish_on_line),
            format!("fish feeding on the line {}", count(s.fish_on_line, t.fish_on_line)),
        ),
        (
            ln(s.hookbait_share_of_mouthfuls, t.hookbait_share_of_mouthfuls),
            format!(
                "share of mouthfuls that were the hookbait {}",
                share(s.hookbait_share_of_mouthfuls, t.hookbait_share_of_mouthfuls)
            ),
        ),
        (
            ln(s.taken_share, t.taken_share),
            format!(
                "share of meetings with the hookbait that were takes {}",
                share(s.taken_share, t.taken_share)
            ),
        ),
        (
            ln(s.hookbait_there_share, t.hookbait_there_share),
            format!(
                "hookbait there to be taken {} of the time",
                share(s.hookbait_there_share, t.hookbait_there_share)
            ),
        ),
        (
            -ln(s.scared.max(0.1), t.scared.max(0.1)),
            format!("fish scared a session {}", count(s.scared, t.scared)),
        ),
    ];
    seen.sort_by(|a, b| b.0.total_cmp(&a.0));
    let with: Vec<_> = seen.iter().filter(|(ln, _)| *ln >= BESIDE_LN).take(2).collect();
    let strongest = with.first().map_or(BESIDE_LN, |(ln, _)| *ln);
    let against = seen.last().filter(|(ln, _)| *ln <= -BESIDE_LN && -ln >= 0.5 * strongest);
    let mut says = String::new();
    if !with.is_empty() {
        let with: Vec<_> = with.iter().map(|(_, figure)| figure.as_str()).collect();
        says += &format!(" In its swim: {}", with.join("; "));
        says += &against.map_or(String::new(), |(_, figure)| format!("; but {figure}"));
        says.push('.');
    } else if let Some((_, figure)) = against {
        says += &format!(" Though in its swim: {figure}.");
    }
    says
}

/// Where the time went that the other plan did not fish.
fn time_beside(one: &PlanResult, other: &PlanResult) -> String {
    let (s, t) = (&one.time_share, &other.time_share);
    let mut spent = [
        ("casting", s.casting, t.casting),
        ("playing fish", s.playing, t.playing),
        ("rebaiting", s.rebaiting, t.rebaiting),
        ("loose feeding", s.feeding, t.feeding),
        ("snags and idle time", s.other, t.other),
    ];
    spent.sort_by(|a, b| (b.2 - b.1).total_cmp(&(a.2 - a.1)));
    let named: Vec<_> = spent
        .iter()
        .filter(|(_, x, y)| y - x >= TIME_SHARE)
        .take(2)
        .map(|(what, x, y)| format!("{what} {} against {}", percent(*x), percent(*y)))
        .collect();
    if named.is_empty() { String::new() } else { format!(" Of its session: {}.", named.join("; ")) }
}
