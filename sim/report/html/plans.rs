//! Each plan as a timeline and in words.

use maud::{Markup, html};

use super::super::ranking::{by_weight, place_of};
use super::super::schedule::{Words, feeding, rod};
use super::super::timeline::timeline_svg;
use super::pieces::{figure, plan, table};
use crate::angler::Plan;
use crate::scenario::{Scenario, Units};
use crate::study::Comparison;

/// Every plan along the session, the heaviest first.
pub(super) fn plans(comparison: &Comparison, scenario: &Scenario, units: Units) -> Option<Markup> {
    let words = Words { scenario, units };
    let ranked = by_weight(comparison);
    ranked.first()?;
    Some(html! {
        @for of in &ranked {
            @let place = place_of(comparison, of);
            @if let Some(fished) = scenario.plans.iter().find(|plan| plan.name == of.name) {
                h3 { (plan(place, &of.name)) }
                (figure(&timeline_svg(fished, place, &words), &caption(fished), &in_words(fished, &words)))
            }
        }
    })
}

fn caption(plan: &Plan) -> String {
    let feeds = if feeding(plan).is_empty() { "" } else { " Thin bars: loose feed." };
    format!("Thick bars: the line the rod fishes.{feeds}")
}

/// The plan as a table.
fn in_words(plan: &Plan, words: &Words<'_>) -> Markup {
    let fishes = rod(plan).into_iter().map(|stint| {
        let phase = stint.does;
        let line = format!("fish {}, {} out", words.line(phase.line), words.distance(phase.line));
        let (load, hookbait) = (words.load(phase), words.hookbait(phase));
        let how = format!("recast {}; load {load}; hookbait {hookbait}", words.recast(phase));
        [stint.times(), line, how]
    });
    let feeds = feeding(plan).into_iter().map(|stint| {
        [stint.times(), format!("feed {}", words.line(stint.does.line)), words.feed(&stint.does)]
    });
    let rows: Vec<Vec<Markup>> =
        fishes.chain(feeds).map(|cells| cells.map(|cell| html! { (cell) }).into()).collect();
    table("What to do when", &["from, to", "what", "how"], &rows)
}
