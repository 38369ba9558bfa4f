//! Sections with pictures, each with the same as a table.

use maud::{Markup, html};

use super::elements::{figure, table};
use crate::report::chart::{catch_by_hour_svg, difference_chart_svg, weight_curve_svg};
use crate::report::format::{number, one_line, weight, weight_range};
use crate::report::view::{PairView, by_weight, hours_minutes};
use crate::scenario::Units;
use crate::study::{Comparison, CurvePoint, PlanResult};

/// Maximum number of plans compared with the heaviest in pictures.
const MAX_PAIRS: usize = 4;

/// Expected weight against time.
pub(crate) fn curves(comparison: &Comparison, units: Units) -> Option<Markup> {
    let ranked = by_weight(comparison);
    let minutes: Vec<f64> = on_the_hour(&ranked.first()?.curve);
    let names: Vec<String> = ranked.iter().map(|plan| one_line(&plan.name)).collect();
    let heads: Vec<&str> = ["after"].into_iter().chain(names.iter().map(String::as_str)).collect();
    let cell = |plan: &PlanResult, minute: f64| {
        let point = plan.curve.iter().find(|point| point.minute >= minute);
        let range = point.map(|point| plan.day_range_kg(point));
        html! {
            @if let Some((point, (low_kg, high_kg))) = point.zip(range) {
                (weight(point.mean_kg, units)) br;
                small { (weight_range(low_kg, high_kg, units)) }
            }
        }
    };
    let rows: Vec<Vec<Markup>> = minutes
        .iter()
        .map(|&minute| {
            let head = html! { (hours_minutes(60.0 * minute)) };
            [head].into_iter().chain(ranked.iter().map(|plan| cell(plan, minute))).collect()
        })
        .collect();
    let caption = "Lines are means; eight days in ten on one such water lie in a band. Bands that overlap do not mean that two plans are \
                   level: the next picture compares them day by day.";
    let table = table("Mean weight so far, and the range of eight days in ten", &heads, &rows);
    Some(figure(&weight_curve_svg(comparison, units), caption, &table))
}

/// Each full hour of a curve, and its end [min].
fn on_the_hour(curve: &[CurvePoint]) -> Vec<f64> {
    let last = curve.last().map_or(0.0, |point| point.minute);
    let hours = (1_u32..).map(|hour| 60.0 * f64::from(hour)).take_while(|minute| *minute < last);
    hours.chain([last]).collect()
}

/// The difference between the heaviest and each other plan, day by day.
pub(crate) fn differences(comparison: &Comparison, units: Units) -> Option<Markup> {
    let ranked = by_weight(comparison);
    let (best, others) = ranked.split_first()?;
    let pair: Vec<PairView<'_>> = others
        .iter()
        .take(MAX_PAIRS)
        .filter_map(|other| PairView::new(comparison, best, other))
        .collect();
    if pair.is_empty() {
        return None;
    }
    let difference = |pair: &PairView<'_>| {
        let rows: Vec<Vec<Markup>> = pair
            .result
            .histogram
            .steps_kg()
            .filter(|(_, days)| *days > 0)
            .map(|((from, to), days)| {
                let (from, to) = (weight(from, units), weight(to, units));
                vec![html! { (from) " to " (to) }, html! { (days) }]
            })
            .collect();
        let (a, b) = (one_line(&pair.first.name), one_line(&pair.second.name));
        let table =
            table(&format!("{a} minus {b}: days by difference"), &["difference", "days"], &rows);
        let caption = format!(
            "Each day {a} and {b} meet the same water and the same fish. The columns count days."
        );
        figure(&difference_chart_svg(comparison, pair, units), &caption, &table)
    };
    Some(html! { div.pair { @for pair in &pair { (difference(pair)) } } })
}

/// Catch by hour and shoal.
pub(crate) fn catch(comparison: &Comparison, units: Units) -> Option<Markup> {
    let ranked = by_weight(comparison);
    ranked.iter().find(|plan| !plan.by_hour.is_empty())?;
    let mut rows: Vec<Vec<Markup>> = Vec::new();
    for plan in &ranked {
        for (index, hour) in plan.by_hour.iter().enumerate() {
            let shoals = hour.by_shoal.iter().map(|shoal| {
                let kg = weight(shoal.weight_kg_mean, units);
                html! { (kg) br; small { (number(shoal.fish_mean)) " fish" } }
            });
            let head = html! { (one_line(&plan.name)) ", hour " (index + 1) };
            rows.push([head].into_iter().chain(shoals).collect());
        }
    }
    let shoals = ranked.first().map_or(&[][..], |plan| &plan.by_shoal);
    let names: Vec<String> = shoals.iter().map(|shoal| one_line(&shoal.shoal)).collect();
    let heads: Vec<&str> =
        ["plan and hour"].into_iter().chain(names.iter().map(String::as_str)).collect();
    let caption = "Mean catch of each hour, stacked by shoal, on the same scale for all plans.";
    let by_hour = table("Mean catch of each hour by shoal", &heads, &rows);
    let totals: Vec<Vec<Markup>> = ranked
        .iter()
        .map(|plan| {
            let cells = plan.by_shoal.iter().map(|shoal| {
                let kg = weight(shoal.weight_kg_mean, units);
                html! { (kg) br; small { (number(shoal.fish_mean)) " fish" } }
            });
            [html! { (one_line(&plan.name)) }].into_iter().chain(cells).collect()
        })
        .collect();
    let heads: Vec<&str> = ["plan"].into_iter().chain(names.iter().map(String::as_str)).collect();
    Some(html! {
        (table("Mean catch of a session by shoal", &heads, &totals))
        (figure(&catch_by_hour_svg(comparison, units), caption, &by_hour))
    })
}
