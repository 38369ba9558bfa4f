//! The table of a comparison.

use comfy_table::{
    CellAlignment, ColumnConstraint, ContentArrangement, LineStyle, Table, TableStyle,
};

use super::measures::{number, percent, weight, weight_range};
use super::ranking::{Facing, by_weight};
use crate::scenario::Units;
use crate::study::Comparison;

/// Widest line [characters].
const WIDTH: u16 = 100;

/// A table of all plans, the heaviest mean first, at most 100 characters wide.
#[must_use]
pub fn comparison_table(comparison: &Comparison, units: Units) -> String {
    let mut table = empty_table(&[
        "plan", "weight", "range", "fish", "avg fish", "casts", "bait", "best on", "verdict",
    ]);
    let ranked = by_weight(comparison);
    for plan in &ranked {
        table.add_row([
            shown_name(&plan.name),
            weight(plan.weight_kg.mean, units),
            weight_range(plan.weight_kg.p10, plan.weight_kg.p90, units),
            number(plan.fish.mean),
            if plan.swim.fish_kg > 0.0 {
                weight(plan.swim.fish_kg, units)
            } else {
                "–".to_owned()
            },
            format!("{:.0}", plan.casts.mean),
            weight(plan.bait_kg.mean, units),
            percent(plan.best_share),
            standing(comparison, ranked[0].name.as_str(), plan.name.as_str()).to_owned(),
        ]);
    }
    align(&mut table, &[0, 8]);
    format!(
        "{}\nMeans of {}. Range: eight days in ten lie in it. Best on: share of days with the heaviest net.",
        table.trim_fmt(),
        days(comparison.days),
    )
}

/// How a plan stands to the best, in a word or two.
fn standing(comparison: &Comparison, best: &str, name: &str) -> &'static str {
    if comparison.plans.len() < 2 {
        return "";
    }
    if best == name {
        return "best mean";
    }
    let plan = |name: &str| comparison.plans.iter().find(|plan| plan.name == name);
    match plan(best).zip(plan(name)).and_then(|(best, plan)| Facing::of(comparison, best, plan)) {
        Some(facing) if facing.clearly_ahead() => "behind",
        Some(facing) if facing.tie_share >= 1.0 => "the same",
        Some(_) => "too close",
        None => "",
    }
}

/// A number of days in words.
pub(super) fn days(count: u32) -> String {
    match count {
        1 => "1 day".to_owned(),
        count => format!("{count} days"),
    }
}

/// A name on one line: characters that would break it become spaces.
pub(super) fn shown_name(name: &str) -> String {
    name.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}

/// A table of our style with a header and no rows.
pub(super) fn empty_table(header: &[&str]) -> Table {
    let rule = LineStyle::none().fill('─').junction('─');
    let mut table = Table::new();
    table
        .load_style(TableStyle::new().header_separator(rule))
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_width(WIDTH)
        .set_header(header.iter().copied());
    table
}

/// Words to the left, numbers to the right; `words` are the columns of words. Only the first column, of names,
/// is folded where the lines would be too long.
pub(super) fn align(table: &mut Table, words: &[usize]) {
    let last = table.column_count().saturating_sub(1);
    for (place, column) in table.column_iter_mut().enumerate() {
        column.set_padding((0, if place == last { 0 } else { 2 }));
        if place > 0 {
            column.set_constraint(ColumnConstraint::ContentWidth);
        }
        if !words.contains(&place) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
}
