//! The verdict, and how the plans stand.

use maud::{Markup, html};

use super::super::measures::{number, percent, weight, weight_range};
use super::super::ranking::{Facing, by_weight, place_of};
use super::super::verdict::verdict;
use super::aims;
use super::pieces::{plan, sentence, shown, table};
use crate::scenario::Units;
use crate::study::{Comparison, PlanResult};

/// What came of it in one line, in sentences, and as a table.
pub(super) fn verdict_section(comparison: &Comparison, units: Units) -> Option<Markup> {
    let ranked = by_weight(comparison);
    let (best, others) = ranked.split_first()?;
    let level: Vec<&str> = others
        .iter()
        .filter(|other| {
            !Facing::of(comparison, best, other).is_some_and(|facing| facing.clearly_ahead())
        })
        .map(|other| other.name.as_str())
        .collect();
    let head = match (others.len(), level.as_slice()) {
        (0, _) => {
            format!("{}: {} a session.", shown(&best.name), weight(best.weight_kg.mean, units))
        }
        (_, []) => format!("{} is clearly ahead.", shown(&best.name)),
        (_, level) => {
            let named: Vec<String> = level.iter().map(|name| shown(name)).collect();
            format!("Too close to call between {} and {}.", shown(&best.name), named.join(", "))
        }
    };
    Some(html! {
        p.head { (sentence(&head)) }
        @for says in verdict(comparison, units) { p { (sentence(&says)) } }
        (standing(comparison, &ranked, units))
        (aims::senses(comparison, best, others))
        p.note {
            "Means of the days fished, heaviest first. In the range lie eight days in ten. "
            @if ranked.len() > 1 { "Best on: share of days with the heaviest net." }
        }
    })
}

fn standing(comparison: &Comparison, ranked: &[&PlanResult], units: Units) -> Markup {
    let rows: Vec<Vec<Markup>> = ranked
        .iter()
        .map(|of| {
            let kg = &of.weight_kg;
            let mean_fish = if of.swim.fish_kg > 0.0 { of.swim.fish_kg } else { f64::NAN };
            let cells = [
                weight(kg.mean, units),
                weight_range(kg.p10, kg.p90, units),
                number(of.fish.mean),
                weight(mean_fish, units),
                format!("{:.0}", of.casts.mean),
                percent(of.best_share),
            ];
            let first = plan(place_of(comparison, of), &of.name);
            [first].into_iter().chain(cells.map(|cell| html! { (cell) })).collect()
        })
        .collect();
    let heads = ["plan", "weight", "range", "fish", "average fish", "casts", "best on"];
    table("How the plans stand", &heads, &rows)
}
