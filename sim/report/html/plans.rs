//! Each plan as a timeline and in words.

use maud::{Markup, html};

use super::super::measures::{number, percent};
use super::super::ranking::{by_weight, place_of};
use super::super::schedule::{Words, feeding, rod};
use super::super::timeline::timeline_svg;
use super::pieces::{figure, plan, sentence, table};
use crate::angler::Plan;
use crate::scenario::{Scenario, Units};
use crate::study::{Comparison, PlanResult};

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
                @if !fished.rules.list.is_empty() { (rules(fished, of, &words)) }
                (figure(&timeline_svg(fished, place, &words), &caption(fished), &in_words(fished, &words)))
            }
        }
    })
}

/// The plan's rules, with how often each fired.
fn rules(plan: &Plan, result: &PlanResult, words: &Words<'_>) -> Markup {
    let fired = |name: &str| result.rules.iter().find(|fired| fired.rule == name);
    html! {
        ul {
            @for rule in &plan.rules.list {
                li {
                    (sentence(&words.rule(rule)))
                    @if let Some(fired) = fired(&rule.name) {
                        " " small {
                            "Fired " (number(fired.mean)) " times a day, on " (percent(fired.days_share)) " of days."
                        }
                    }
                }
            }
        }
    }
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
