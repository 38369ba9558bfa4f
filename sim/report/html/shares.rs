//! Sections that are tables with bars: time and bait.

use maud::{Markup, html};

use super::super::measures::{duration, percent, weight};
use super::super::ranking::{by_weight, place_of};
use super::pieces::{bar, plan, shown, table};
use crate::scenario::Units;
use crate::study::{Comparison, TimeShare};

/// Takes one share out of all of them.
type ShareOf = fn(&TimeShare) -> f64;

/// What time goes into, in words.
const TIME: [(&str, ShareOf); 6] = [
    ("bait in the water, hands free", |time| time.waiting),
    ("winding in, casting, sinking", |time| time.casting),
    ("playing fish", |time| time.playing),
    ("unhooking, loading, baiting", |time| time.rebaiting),
    ("loose feeding", |time| time.feeding),
    ("snags, changing line, idle", |time| time.other),
];

/// Where each plan's time went.
pub(super) fn time(comparison: &Comparison) -> Option<Markup> {
    let ranked = by_weight(comparison);
    let session_s = 60.0 * ranked.first()?.curve.last()?.minute;
    let names: Vec<String> = ranked.iter().map(|plan| shown(&plan.name)).collect();
    let heads: Vec<&str> = ["time"].into_iter().chain(names.iter().map(String::as_str)).collect();
    let rows: Vec<Vec<Markup>> = TIME
        .iter()
        .filter(|(_, of)| ranked.iter().any(|plan| of(&plan.time_share) > 0.0))
        .map(|(what, of)| {
            let cells = ranked.iter().map(|plan| {
                let share = of(&plan.time_share);
                html! { (bar(share, &percent(share))) br; small { (duration(to_minutes_s(share * session_s))) } }
            });
            [html! { (what) }].into_iter().chain(cells).collect()
        })
        .collect();
    Some(table("Share of the session, and time", &heads, &rows))
}

/// A time [s] to the minute, from a minute on.
fn to_minutes_s(t_s: f64) -> f64 {
    if t_s < 60.0 { t_s } else { 60.0 * (t_s / 60.0).round() }
}

/// Bait used, and how much of it to bring.
pub(super) fn bait(comparison: &Comparison, units: Units) -> Option<Markup> {
    let ranked = by_weight(comparison);
    let most_kg = ranked.iter().map(|plan| plan.bait_kg.p90).fold(0.0, f64::max);
    ranked.first()?;
    let rows: Vec<Vec<Markup>> = ranked
        .iter()
        .map(|of| {
            let baits = html! {
                @for bait in &of.baits {
                    span.item { (shown(&bait.bait)) " " (weight(bait.p90, units)) } " "
                }
            };
            let kg = of.bait_kg;
            vec![
                plan(place_of(comparison, of), &of.name),
                bar(kg.mean / most_kg, &weight(kg.mean, units)),
                bar(kg.p90 / most_kg, &weight(kg.p90, units)),
                baits,
            ]
        })
        .collect();
    let heads = ["plan", "on average", "bring", "of each"];
    Some(html! {
        (table("Bait used in a session", &heads, &rows))
        p.note { "Bring: enough for nine days in ten, in all and of each bait." }
    })
}
