//! Sections that are pictures, each with its table.

use maud::{Markup, html};

use super::super::difference_chart::difference_chart_svg;
use super::super::hours_chart::hours_chart_svg;
use super::super::measures::{number, weight, weight_range};
use super::super::ranking::{Facing, by_weight};
use super::super::schedule::hour;
use super::super::weight_curve::weight_curve_svg;
use super::pieces::{figure, shown, table};
use crate::scenario::Units;
use crate::study::{Comparison, CurvePoint, PlanResult};

/// Most plans set against the heaviest in pictures.
const MOST: usize = 4;

/// Expected weight against time.
pub(super) fn curves(comparison: &Comparison, units: Units) -> Option<Markup> {
    let ranked = by_weight(comparison);
    let minutes: Vec<f64> = on_the_hour(&ranked.first()?.curve);
    let names: Vec<String> = ranked.iter().map(|plan| shown(&plan.name)).collect();
    let heads: Vec<&str> = ["after"].into_iter().chain(names.iter().map(String::as_str)).collect();
    let cell = |plan: &PlanResult, minute: f64| {
        let point = plan.curve.iter().find(|point| point.minute >= minute);
        html! {
            @if let Some(point) = point {
                (weight(point.mean_kg, units)) br;
                small { (weight_range(point.p10_kg, point.p90_kg, units)) }
            }
        }
    };
    let rows: Vec<Vec<Markup>> = minutes
        .iter()
        .map(|&minute| {
            let head = html! { (hour(60.0 * minute)) };
            [head].into_iter().chain(ranked.iter().map(|plan| cell(plan, minute))).collect()
        })
        .collect();
    let caption = "Lines are means; eight days in ten lie within a band. What separates two plans on the same \
                   day is in the next picture, not in how their bands overlap.";
    let table = table("Mean weight so far, and where eight days in ten lie", &heads, &rows);
    Some(figure(&weight_curve_svg(comparison, units), caption, &table))
}

/// Whole hours of a curve, and its end [min].
fn on_the_hour(curve: &[CurvePoint]) -> Vec<f64> {
    let last = curve.last().map_or(0.0, |point| point.minute);
    let hours = (1_u32..).map(|hour| 60.0 * f64::from(hour)).take_while(|minute| *minute < last);
    hours.chain([last]).collect()
}

/// Days by the difference between the heaviest and each other plan.
pub(super) fn differences(comparison: &Comparison, units: Units) -> Option<Markup> {
    let ranked = by_weight(comparison);
    let (best, others) = ranked.split_first()?;
    let facing: Vec<Facing<'_>> =
        others.iter().take(MOST).filter_map(|other| Facing::of(comparison, best, other)).collect();
    if facing.is_empty() {
        return None;
    }
    let one = |facing: &Facing<'_>| {
        let rows: Vec<Vec<Markup>> = facing
            .histogram_kg()
            .into_iter()
            .filter(|(_, days)| *days > 0)
            .map(|((from, to), days)| {
                let (from, to) = (weight(from, units), weight(to, units));
                vec![html! { (from) " to " (to) }, html! { (days) }]
            })
            .collect();
        let (a, b) = (shown(&facing.one.name), shown(&facing.other.name));
        let table =
            table(&format!("{a} less {b}: days by difference"), &["difference", "days"], &rows);
        let caption = format!(
            "Each day {a} and {b} fished the same water and the same fish; a column counts days."
        );
        figure(&difference_chart_svg(comparison, facing, units), &caption, &table)
    };
    Some(html! { div.pair { @for facing in &facing { (one(facing)) } } })
}

/// Catch by hour and shoal.
pub(super) fn catch(comparison: &Comparison, units: Units) -> Option<Markup> {
    let ranked = by_weight(comparison);
    ranked.iter().find(|plan| !plan.by_hour.is_empty())?;
    let mut rows: Vec<Vec<Markup>> = Vec::new();
    for plan in &ranked {
        for (at, hour) in plan.by_hour.iter().enumerate() {
            let shoals = hour.by_shoal.iter().map(|shoal| {
                let kg = weight(shoal.weight_kg_mean, units);
                html! { (kg) br; small { (number(shoal.fish_mean)) " fish" } }
            });
            let head = html! { (shown(&plan.name)) ", hour " (at + 1) };
            rows.push([head].into_iter().chain(shoals).collect());
        }
    }
    let shoals = ranked.first().map_or(&[][..], |plan| &plan.by_shoal);
    let names: Vec<String> = shoals.iter().map(|shoal| shown(&shoal.shoal)).collect();
    let heads: Vec<&str> =
        ["plan and hour"].into_iter().chain(names.iter().map(String::as_str)).collect();
    let caption = "Mean catch of each hour, stacked by the shoal it came from, on one scale.";
    let by_hour = table("Mean catch of each hour by shoal", &heads, &rows);
    let totals: Vec<Vec<Markup>> = ranked
        .iter()
        .map(|plan| {
            let cells = plan.by_shoal.iter().map(|shoal| {
                let kg = weight(shoal.weight_kg_mean, units);
                html! { (kg) br; small { (number(shoal.fish_mean)) " fish" } }
            });
            [html! { (shown(&plan.name)) }].into_iter().chain(cells).collect()
        })
        .collect();
    let heads: Vec<&str> = ["plan"].into_iter().chain(names.iter().map(String::as_str)).collect();
    Some(html! {
        (table("Mean catch of a session by shoal", &heads, &totals))
        (figure(&hours_chart_svg(comparison, units), caption, &by_hour))
    })
}
