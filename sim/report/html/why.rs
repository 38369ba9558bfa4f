//! Why: each difference in parts that add up to it, and what was seen.

use maud::{Markup, html};

use super::super::measures::{duration, fine_percent, number, weight};
use super::super::ranking::{Facing, by_weight};
use super::super::reasons::reason;
use super::pieces::{bar, sentence, shown, table};
use crate::scenario::Units;
use crate::study::{Comparison, Part, PartOf};

/// Most pairs told; of more, those with the heaviest plan come first.
const MOST: usize = 15;

/// Why each plan outweighs each other.
pub(super) fn why(comparison: &Comparison, units: Units) -> Option<Markup> {
    let ranked = by_weight(comparison);
    let pairs: Vec<Facing<'_>> = ranked
        .iter()
        .enumerate()
        .flat_map(|(at, one)| ranked[at + 1..].iter().map(move |other| (*one, *other)))
        .filter_map(|(one, other)| Facing::of(comparison, one, other))
        .take(MOST)
        .collect();
    if pairs.is_empty() {
        return None;
    }
    Some(html! {
        p {
            "A weight is time with a bait in the water × bites an hour of that × share of bites landed × weight of a "
            "fish. Each difference is split into what each of the four made or cost; the parts add up to it."
        }
        @for facing in &pairs { (pair(facing, comparison.days, units)) }
    })
}

fn pair(facing: &Facing<'_>, days: u32, units: Units) -> Markup {
    let (one, other) = (shown(&facing.one.name), shown(&facing.other.name));
    html! {
        h3 { (one) " and " (other) }
        @if facing.clearly_ahead() {
            @for says in reason(facing, days, units) { p { (sentence(&says)) } }
        } @else {
            p { "Too close to call; the parts below may be chance." }
        }
        (parts(facing, &one, &other, units))
    }
}

fn parts(facing: &Facing<'_>, one: &str, other: &str, units: Units) -> Markup {
    let parts = facing.parts();
    let most_kg = parts.iter().map(|part| part.kg.abs()).fold(0.0, f64::max);
    let signed = |kg: f64| match weight(kg, units) {
        words if kg > 0.0 && !words.starts_with("0 ") => format!("+{words}"),
        words => words,
    };
    let mut rows: Vec<Vec<Markup>> = parts
        .iter()
        .map(|part| {
            let (what, a, b) = shown_part(part, units);
            let share = if most_kg > 0.0 { part.kg.abs() / most_kg } else { 0.0 };
            let class = if part.kg < 0.0 { "cost" } else { "made" };
            vec![
                html! { (what) },
                html! { (a) },
                html! { (b) },
                html! { span class=(class) { (bar(share, &signed(part.kg))) } },
            ]
        })
        .collect();
    let whole = html! { strong { (signed(facing.mean_kg)) } };
    rows.push(vec![html! { "whole difference" }, html! {}, html! {}, whole]);
    let caption = format!("{one} less {other}, in parts");
    table(&caption, &["part", one, other, "made or cost"], &rows)
}

/// What a part is, and its two values.
fn shown_part(part: &Part, units: Units) -> (&'static str, String, String) {
    let (what, figure): (_, &dyn Fn(f64) -> String) = match part.of {
        PartOf::HoursInWater => ("bait in the water", &|hours| duration(3600.0 * hours)),
        PartOf::BitesPerHour => ("bites an hour of that", &number),
        PartOf::LandedShare => ("bites landed", &fine_percent),
        PartOf::FishKg => ("weight of a fish", &|kg| weight(kg, units)),
    };
    let shown = |value: Option<f64>| value.map_or_else(|| "–".to_owned(), figure);
    (what, shown(part.a), shown(part.b))
}
