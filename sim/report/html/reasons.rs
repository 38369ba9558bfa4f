//! Why: each difference split into factors that add up to it, with observations.

use maud::{Markup, html};

use super::elements::{bar, sentence, table};
use crate::report::format::{
    counted, duration, fine_percent, is_shown_as_zero, number, one_line, weight,
};
use crate::report::text::reason;
use crate::report::view::{PairView, by_weight};
use crate::scenario::Units;
use crate::study::{Comparison, Factor, FactorContribution};

/// Maximum number of pairs; those with the heaviest plan come first.
const MAX_PAIRS: usize = 15;

/// Why each plan outweighs the plans below it; those with the heaviest plan are in sight, the others to unfold.
pub(crate) fn reasons(comparison: &Comparison, units: Units) -> Option<Markup> {
    let ranked = by_weight(comparison);
    let pairs: Vec<PairView<'_>> = ranked
        .iter()
        .enumerate()
        .flat_map(|(rank, first)| ranked[rank + 1..].iter().map(move |second| (*first, *second)))
        .filter_map(|(first, second)| PairView::new(comparison, first, second))
        .take(MAX_PAIRS)
        .collect();
    if pairs.is_empty() {
        return None;
    }
    let (heaviest, others) = pairs.split_at(pairs.len().min(ranked.len() - 1));
    Some(html! {
        p {
            "Weight = time with a bait in the water × bites in each hour of it × share of bites landed × weight of a "
            "fish. Each difference is split into what each of the four added or cost; the parts add up to it."
        }
        @for pair in heaviest { (pair_section(pair, comparison.days, units)) }
        @if !others.is_empty() {
            details {
                summary { "Why the others differ: " (counted(others.len() as u64, "pair")) }
                @for pair in others { (pair_section(pair, comparison.days, units)) }
            }
        }
    })
}

/// One pair: its reasons and its factors.
fn pair_section(pair: &PairView<'_>, days: u32, units: Units) -> Markup {
    let (first, second) = (one_line(&pair.first.name), one_line(&pair.second.name));
    html! {
        h3 { (sentence(&format!("{first} and {second}"))) }
        @if pair.is_clearly_ahead() {
            @for text in reason(pair, days, units) { p { (sentence(&text)) } }
        } @else {
            p { "Too close to call; the parts below may be chance." }
        }
        (factor_table(pair, &first, &second, units))
    }
}

/// The factors of a difference as a table.
fn factor_table(pair: &PairView<'_>, first: &str, second: &str, units: Units) -> Markup {
    let factors = &pair.result.factors;
    let largest_kg = factors.iter().map(|factor| factor.contribution_kg.abs()).fold(0.0, f64::max);
    let signed = |kg: f64| match weight(kg, units) {
        words if kg > 0.0 && !is_shown_as_zero(kg, units) => format!("+{words}"),
        words => words,
    };
    let mut rows: Vec<Vec<Markup>> = factors
        .iter()
        .map(|factor| {
            let (name, a, b) = factor_values(factor, units);
            let share =
                if largest_kg > 0.0 { factor.contribution_kg.abs() / largest_kg } else { 0.0 };
            let class = if factor.contribution_kg < 0.0 { "cost" } else { "made" };
            vec![
                html! { (name) },
                html! { (a) },
                html! { (b) },
                html! { span class=(class) { (bar(share, &signed(factor.contribution_kg))) } },
            ]
        })
        .collect();
    let whole = html! { strong { (signed(pair.mean_kg())) } };
    rows.push(vec![html! { "whole difference" }, html! {}, html! {}, whole]);
    let caption = format!("{first} minus {second}, in parts");
    table(&caption, &["part", first, second, "added or cost"], &rows)
}

/// The name of a factor and its two values.
fn factor_values(factor: &FactorContribution, units: Units) -> (&'static str, String, String) {
    let (name, figure): (_, &dyn Fn(f64) -> String) = match factor.factor {
        Factor::HoursInWater => ("bait in the water", &|hours| duration(3600.0 * hours)),
        Factor::BitesPerHour => ("bites in each hour of it", &number),
        Factor::LandedShare => ("bites landed", &fine_percent),
        Factor::FishKg => ("weight of a fish", &|kg| weight(kg, units)),
    };
    let shown = |value: Option<f64>| value.map_or_else(|| "–".to_owned(), figure);
    (name, shown(factor.a), shown(factor.b))
}
