//! What else a day may be for, and in which sense one plan beats another.

use maud::{Markup, html};

use super::super::measures::{percent, weight};
use super::super::ranking::{Facing, place_of};
use super::pieces::{plan, shown, table};
use crate::scenario::Units;
use crate::study::{Aim, AimResult, Chance, Comparison, PlanResult};

/// How every plan serves each aim.
pub(super) fn aims(comparison: &Comparison, units: Units) -> Option<Markup> {
    if comparison.aims.is_empty() {
        return None;
    }
    let names: Vec<String> = comparison.plans.iter().map(|plan| shown(&plan.name)).collect();
    let heads: Vec<&str> = ["aim"].into_iter().chain(names.iter().map(String::as_str)).collect();
    let rows: Vec<Vec<Markup>> = comparison.aims.iter().map(|aim| row(aim, units)).collect();
    Some(html! {
        (table("How each plan serves each aim, with 95 % intervals", &heads, &rows))
        p.note { "Best: the plan that serves the aim best; level: not told apart from it on the days fished." }
    })
}

fn row(aim: &AimResult, units: Units) -> Vec<Markup> {
    let figure = |value: f64| if aim.unit == "kg" { weight(value, units) } else { percent(value) };
    let cells = aim.plans.iter().map(|of| {
        let is_level = aim.not_told_apart.contains(&of.name);
        let standing = if of.name == aim.best { Some("best") } else { is_level.then_some("level") };
        html! {
            (figure(of.value)) @if let Some(standing) = standing { " " strong { (standing) } }
            br; small { (figure(of.low95)) " to " (figure(of.high95)) }
        }
    });
    [html! { (says(aim, units)) }].into_iter().chain(cells).collect()
}

/// An aim in words.
fn says(aim: &AimResult, units: Units) -> String {
    let rivals = aim.rivals.map_or_else(String::new, |rivals| format!(" against {rivals} rivals"));
    match (aim.aim, aim.at) {
        (Aim::MeanWeight, _) => "mean weight".to_owned(),
        (Aim::Target, Some(kg)) => format!("chance of {} or more", weight(kg, units)),
        (Aim::Target, None) => "chance of the target".to_owned(),
        (Aim::Win, _) => format!("chance to win the section{rivals}"),
        (Aim::Frame, Some(places)) => format!("chance of the first {places}{rivals}"),
        (Aim::Frame, None) => format!("chance of a frame place{rivals}"),
        (Aim::Blank, _) => "chance of a blank (less is better)".to_owned(),
        (Aim::WorstDays, Some(share)) => format!("mean of the worst {} of days", percent(share)),
        (Aim::WorstDays, None) => "mean of the worst days".to_owned(),
    }
}

/// The three senses in which the best plan beats each other one.
pub(super) fn senses(comparison: &Comparison, best: &PlanResult, others: &[&PlanResult]) -> Markup {
    let cell = |chance: Option<Chance>| {
        html! {
            @if let Some(chance) = chance {
                (percent(chance.share)) br;
                small { (percent(chance.low95)) " to " (percent(chance.high95)) }
            } @else { "–" }
        }
    };
    let rows: Vec<Vec<Markup>> = others
        .iter()
        .filter_map(|other| Some((other, Facing::of(comparison, best, other)?.beats())))
        .map(|(other, beats)| {
            vec![
                plan(place_of(comparison, other), &other.name),
                cell(Some(beats.same_day)),
                cell(beats.two_days),
                cell(beats.on_average),
            ]
        })
        .collect();
    let caption = format!("How often, and how surely, {} beats the others", shown(&best.name));
    let heads = ["plan", "on the same day", "on another day", "on average"];
    html! {
        @if !rows.is_empty() {
            (table(&caption, &heads, &rows))
            p.note {
                "Three different questions. Same day: both fished the same fish, weather and luck. Another day: one on one "
                "day, the other on another. On average: how sure it is that its mean is higher, with what nobody knows of "
                "the fish drawn afresh. Below each its 95 % interval."
            }
        }
    }
}
