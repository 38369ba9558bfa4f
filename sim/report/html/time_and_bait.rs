//! Tables with bars: the use of time and of bait.

use maud::{Markup, html};

use super::elements::{bar, plan, table};
use crate::report::format::{duration, one_line, percent, weight};
use crate::report::view::{by_weight, index_of};
use crate::scenario::Units;
use crate::session::Activity;
use crate::study::Comparison;

/// The activities that time is spent on.
const TIME: [(&str, Activity); 6] = [
    ("bait in the water, hands free", Activity::Waiting),
    ("winding in, casting, sinking", Activity::Casting),
    ("playing fish", Activity::Playing),
    ("unhooking, loading, baiting", Activity::Rebaiting),
    ("loose feeding", Activity::Feeding),
    ("snags, changing line, idle", Activity::Other),
];

/// The share of the session that each plan spends on each activity.
pub(crate) fn time(comparison: &Comparison) -> Option<Markup> {
    let ranked = by_weight(comparison);
    let session_s = 60.0 * ranked.first()?.curve.last()?.minute;
    let names: Vec<String> = ranked.iter().map(|plan| one_line(&plan.name)).collect();
    let heads: Vec<&str> = ["time"].into_iter().chain(names.iter().map(String::as_str)).collect();
    let rows: Vec<Vec<Markup>> = TIME
        .iter()
        .filter(|(_, activity)| ranked.iter().any(|plan| plan.time_share[*activity] > 0.0))
        .map(|(words, activity)| {
            let cells = ranked.iter().map(|plan| {
                let share = plan.time_share[*activity];
                html! { (bar(share, &percent(share))) br; small { (duration(to_minutes_s(share * session_s))) } }
            });
            [html! { (words) }].into_iter().chain(cells).collect()
        })
        .collect();
    Some(table("Share of the session, and time", &heads, &rows))
}

/// A time [s] rounded to minutes; a time under a minute stays as it is.
fn to_minutes_s(t_s: f64) -> f64 {
    if t_s < 60.0 { t_s } else { 60.0 * (t_s / 60.0).round() }
}

/// The bait that each plan uses, and how much to bring.
pub(crate) fn bait(comparison: &Comparison, units: Units) -> Option<Markup> {
    let ranked = by_weight(comparison);
    let most_kg = ranked.iter().map(|plan| plan.bait_kg.p90).fold(0.0, f64::max);
    ranked.first()?;
    let rows: Vec<Vec<Markup>> = ranked
        .iter()
        .map(|result| {
            let baits = html! {
                @for bait in &result.baits {
                    span.item { (one_line(&bait.bait)) " " (weight(bait.p90, units)) } " "
                }
            };
            let kg = result.bait_kg;
            vec![
                plan(index_of(comparison, result), &result.name),
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
