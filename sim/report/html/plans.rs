//! Each plan as a timeline and as a table.

use maud::{Markup, html};

use super::elements::{figure, plan, sentence, table};
use crate::angler::Plan;
use crate::report::chart::timeline_svg;
use crate::report::format::{number, percent};
use crate::report::view::{PlanWords, by_weight, feeding_schedule, index_of, rod_schedule};
use crate::scenario::{Scenario, Units};
use crate::study::{Comparison, PlanResult};

/// The timeline and the rules of every plan, the heaviest first.
pub(crate) fn plans(comparison: &Comparison, scenario: &Scenario, units: Units) -> Option<Markup> {
    let words = PlanWords { scenario, units };
    let ranked = by_weight(comparison);
    ranked.first()?;
    Some(html! {
        @for result in &ranked {
            @let index = index_of(comparison, result);
            @if let Some(fished) = scenario.plans.iter().find(|plan| plan.name == result.name) {
                h3 { (plan(index, &result.name)) }
                @if !fished.rules.list.is_empty() { (rules(fished, result, &words)) }
                (figure(&timeline_svg(fished, index, &words), &caption(fished), &timetable(fished, &words)))
            }
        }
    })
}

/// The rules of a plan, with how often each fired.
fn rules(plan: &Plan, result: &PlanResult, words: &PlanWords<'_>) -> Markup {
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

/// The caption of the timeline.
fn caption(plan: &Plan) -> String {
    let feeds = if feeding_schedule(plan).is_empty() { "" } else { " Thin bars: loose feed." };
    format!("Thick bars: the line the rod fishes.{feeds}")
}

/// The plan as a table.
fn timetable(plan: &Plan, words: &PlanWords<'_>) -> Markup {
    let fishes = rod_schedule(plan).into_iter().map(|stint| {
        let tackle = &stint.action;
        let line = format!("fish {}, {} out", words.line(tackle.line), words.distance(tackle.line));
        let (load, hookbait) = (words.load(tackle), words.hookbait(tackle));
        let how = format!("recast {}; load {load}; hookbait {hookbait}", words.recast(tackle));
        [stint.times(), line, how]
    });
    let feeds = feeding_schedule(plan).into_iter().map(|stint| {
        [
            stint.times(),
            format!("feed {}", words.line(stint.action.line)),
            words.feed(&stint.action),
        ]
    });
    let rows: Vec<Vec<Markup>> =
        fishes.chain(feeds).map(|cells| cells.map(|cell| html! { (cell) }).into()).collect();
    table("What to do when", &["from, to", "what", "how"], &rows)
}
