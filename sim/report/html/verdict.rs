//! The verdict, and the table of the plans.

use maud::{Markup, html};

use super::aims;
use super::elements::{plan, sentence, table};
use crate::report::format::{
    day_range_kg, number, one_line, percent, range_note, weight, weight_range,
};
use crate::report::text::{early_sentence, verdict};
use crate::report::view::{PairView, by_weight, index_of};
use crate::scenario::Units;
use crate::study::{Comparison, PlanResult};

/// The verdict in one line, in sentences and as a table.
pub(crate) fn verdict_section(comparison: &Comparison, units: Units) -> Option<Markup> {
    let ranked = by_weight(comparison);
    let (best, others) = ranked.split_first()?;
    let level: Vec<&str> = others
        .iter()
        .filter(|other| {
            !PairView::new(comparison, best, other).is_some_and(|pair| pair.is_clearly_ahead())
        })
        .map(|other| other.name.as_str())
        .collect();
    let head = match (others.len(), level.as_slice()) {
        (0, _) => {
            format!("{}: {} a session.", one_line(&best.name), weight(best.weight_kg.mean, units))
        }
        (_, []) => format!("{} is clearly ahead.", one_line(&best.name)),
        (_, level) => {
            let named: Vec<String> = level.iter().map(|name| one_line(name)).collect();
            format!("Too close to call between {} and {}.", one_line(&best.name), named.join(", "))
        }
    };
    let head = early_sentence(comparison).unwrap_or(head);
    Some(html! {
        p.head { (sentence(&head)) }
        @for text in verdict(comparison, units) { p { (sentence(&text)) } }
        (plan_table(comparison, &ranked, units))
        (aims::superiority(comparison, best, others))
        p.note {
            "Means of the days fished, heaviest first. " (range_note(ranked.iter().all(|plan| plan.known_water.is_some()))) " "
            "With unknowns: where eight days in ten lie if nobody knows which of these waters it is. "
            @if ranked.len() > 1 { "Best on: share of days with the heaviest net." }
        }
    })
}

/// A row for each plan, the heaviest first.
fn plan_table(comparison: &Comparison, ranked: &[&PlanResult], units: Units) -> Markup {
    let rows: Vec<Vec<Markup>> = ranked
        .iter()
        .map(|result| {
            let kg = &result.weight_kg;
            let (low_kg, high_kg) = day_range_kg(result);
            let mean_fish = if result.swim.fish_kg > 0.0 { result.swim.fish_kg } else { f64::NAN };
            let cells = [
                weight(kg.mean, units),
                weight_range(low_kg, high_kg, units),
                weight_range(kg.p10, kg.p90, units),
                number(result.fish.mean),
                weight(mean_fish, units),
                format!("{:.0}", result.casts.mean),
                percent(result.best_share),
            ];
            let first = plan(index_of(comparison, result), &result.name);
            [first].into_iter().chain(cells.map(|cell| html! { (cell) })).collect()
        })
        .collect();
    let heads =
        ["plan", "weight", "range", "with unknowns", "fish", "average fish", "casts", "best on"];
    table("The plans compared", &heads, &rows)
}
