//! Other aims than the mean weight, and the three chances that one plan beats another.

use maud::{Markup, html};

use super::elements::{plan, table};
use crate::report::format::{interval_ends, one_line, percent, weight};
use crate::report::view::{PairView, index_of};
use crate::scenario::Units;
use crate::study::{Aim, AimPlan, AimResult, Comparison, Estimate, PlanResult};

/// Largest number of plans that are columns of the table of aims; if there are more, each plan is a row.
const MAX_COLUMNS: usize = 3;

/// The result of every plan for each aim.
pub(crate) fn aims(comparison: &Comparison, units: Units) -> Option<Markup> {
    if comparison.aims.is_empty() {
        return None;
    }
    let (plans, aims) = (&comparison.plans, &comparison.aims);
    let has_plan_rows = plans.len() > MAX_COLUMNS;
    let names: Vec<String> = match has_plan_rows {
        true => aims.iter().map(|aim| aim_name(aim, units)).collect(),
        false => plans.iter().map(|plan| one_line(&plan.name)).collect(),
    };
    let first = if has_plan_rows { "plan" } else { "aim" };
    let heads: Vec<&str> = [first].into_iter().chain(names.iter().map(String::as_str)).collect();
    let rows: Vec<Vec<Markup>> = match has_plan_rows {
        true => {
            plans.iter().enumerate().map(|(index, of)| plan_row(index, of, aims, units)).collect()
        }
        false => aims.iter().map(|aim| aim_row(aim, units)).collect(),
    };
    Some(html! {
        (table("Result of each plan for each aim (below it: 95\u{a0}% sure)", &heads, &rows))
        p.note { "Best: the best plan for this aim. Level: may be as good, on the days fished." }
    })
}

/// One aim as a row, with a cell for each plan.
fn aim_row(aim: &AimResult, units: Units) -> Vec<Markup> {
    let cells = aim.plans.iter().map(|plan| cell(aim, plan, units));
    [html! { (aim_name(aim, units)) }].into_iter().chain(cells).collect()
}

/// Plan `index` of the scenario as a row, with a cell for each aim.
fn plan_row(index: usize, of: &PlanResult, aims: &[AimResult], units: Units) -> Vec<Markup> {
    let cells = aims.iter().map(|aim| {
        let result = aim.plans.iter().find(|plan| plan.name == of.name);
        result.map_or_else(|| html! { "–" }, |result| cell(aim, result, units))
    });
    [plan(index, &of.name)].into_iter().chain(cells).collect()
}

/// The result of a plan for an aim.
fn cell(aim: &AimResult, plan: &AimPlan, units: Units) -> Markup {
    let figure = |value: f64| if aim.unit == "kg" { weight(value, units) } else { percent(value) };
    let is_level = aim.not_clearly_worse.contains(&plan.name);
    let verdict = if plan.name == aim.best { Some("best") } else { is_level.then_some("level") };
    html! {
        (figure(plan.result.value)) @if let Some(verdict) = verdict { " " strong { (verdict) } }
        br; small { (interval_ends(plan.result.interval, figure)) }
    }
}

/// An aim in words.
fn aim_name(aim: &AimResult, units: Units) -> String {
    let rivals = aim.rivals.map_or_else(String::new, |rivals| format!(" against {rivals} rivals"));
    match (aim.aim, aim.threshold) {
        (Aim::MeanWeight, _) => "mean weight".to_owned(),
        (Aim::Target, Some(kg)) => format!("chance of {} or more", weight(kg, units)),
        (Aim::Target, None) => "chance of the target".to_owned(),
        (Aim::Win, _) => format!("chance to win the section{rivals}"),
        (Aim::Frame, Some(places)) => format!("chance to frame (first {places}){rivals}"),
        (Aim::Frame, None) => format!("chance to frame{rivals}"),
        (Aim::Blank, _) => "chance of a blank (less is better)".to_owned(),
        (Aim::WorstDays, Some(share)) => format!("mean of the worst {} of days", percent(share)),
        (Aim::WorstDays, None) => "mean of the worst days".to_owned(),
    }
}

/// The three chances that the best plan beats each other one.
pub(crate) fn superiority(
    comparison: &Comparison,
    best: &PlanResult,
    others: &[&PlanResult],
) -> Markup {
    let cell = |chance: Option<Estimate>| {
        html! {
            @if let Some(chance) = chance {
                (percent(chance.value)) br;
                small { (interval_ends(chance.interval, percent)) }
            } @else { "–" }
        }
    };
    let rows: Vec<Vec<Markup>> = others
        .iter()
        .filter_map(|other| {
            Some((other, PairView::new(comparison, best, other)?.result.superiority))
        })
        .map(|(other, superiority)| {
            vec![
                plan(index_of(comparison, other), &other.name),
                cell(Some(superiority.same_day)),
                cell(superiority.independent_days),
                cell(superiority.mean_higher),
            ]
        })
        .collect();
    let caption = format!("Chance that {} beats the others", one_line(&best.name));
    let heads = ["plan", "on the same day", "on different days", "on average"];
    html! {
        @if !rows.is_empty() {
            (table(&caption, &heads, &rows))
            p.note {
                "Three different questions. Same day: chance that it is heavier when both are fished on the same day; "
                "level days count for neither. Different days: chance that it is heavier when they are fished on "
                "different days; equal weights count half. On average: chance that its true mean is higher, unknowns "
                "about fish included. Below each chance: 95\u{a0}% sure."
            }
        }
    }
}
