//! The table of a comparison.

use comfy_table::{
    CellAlignment, ColumnConstraint, ContentArrangement, LineStyle, Table, TableStyle,
};
use unicode_width::UnicodeWidthStr;

use super::measures::{alike, number, percent, range_alike, weight, weight_range};
use super::ranking::by_weight;
use crate::scenario::Units;
use crate::study::{Comparison, PlanResult};

/// Widest line [columns].
const WIDTH: usize = 100;
/// Blank columns between two columns of the table.
const GAP: usize = 2;
/// Least room for names [columns].
const NAME_WIDTH: usize = 8;
/// Longest name for which columns are left out rather than the name folded [columns].
const LONGEST_NAME: usize = 32;
/// Heads of the columns that are left out where there is no room, the first of them first.
const LEFT_OUT: [&str; 3] = ["casts", "bait", "avg fish"];

/// A column: its head, and a cell for each plan.
struct Column {
    head: &'static str,
    cells: Vec<String>,
}

impl Column {
    /// Room it takes with the gap before it [columns].
    fn room(&self) -> usize {
        GAP + self.cells.iter().map(|cell| cell.width()).fold(self.head.width(), usize::max)
    }
}

/// A table of all plans, the heaviest mean first, at most 100 columns wide.
#[must_use]
pub fn comparison_table(comparison: &Comparison, units: Units) -> String {
    comparison_table_within(comparison, units, WIDTH)
}

/// The same table for a terminal of `columns`, of which it uses 40 to 100.
///
/// Where there is no room for all of it, casts, bait and the average fish are left out, in this order; where
/// that is not enough, long names are folded. A number is never broken.
#[must_use]
pub fn comparison_table_within(comparison: &Comparison, units: Units, columns: usize) -> String {
    let width = columns.clamp(40, WIDTH);
    let ranked = by_weight(comparison);
    let top_kg = ranked.iter().map(|plan| plan.weight_kg.p90).fold(0.0, f64::max);
    let column = |head, cell: &dyn Fn(&PlanResult) -> String| Column {
        head,
        cells: ranked.iter().map(|plan| cell(plan)).collect(),
    };
    let mut shown = vec![
        column("weight", &|plan| match units {
            Units::Imperial => weight(plan.weight_kg.mean, units),
            Units::Metric => alike(plan.weight_kg.mean, top_kg, units),
        }),
        column("range", &|plan| match units {
            Units::Imperial => weight_range(plan.weight_kg.p10, plan.weight_kg.p90, units),
            Units::Metric => range_alike(plan.weight_kg.p10, plan.weight_kg.p90, top_kg, units),
        }),
        column("fish", &|plan| number(plan.fish.mean)),
        column("avg fish", &|plan| match plan.swim.fish_kg {
            kg if kg > 0.0 => weight(kg, units),
            _ => "–".to_owned(),
        }),
        column("casts", &|plan| format!("{:.0}", plan.casts.mean)),
        column("bait", &|plan| weight(plan.bait_kg.mean, units)),
        column("best on", &|plan| percent(plan.best_share)),
    ];
    let mut names: Vec<String> = ranked.iter().map(|plan| shown_name(&plan.name)).collect();
    let widest = names.iter().map(|name| name.width()).fold("plan".len(), usize::max);
    let widest = widest.min(LONGEST_NAME);
    let room = |shown: &[Column]| width.saturating_sub(shown.iter().map(Column::room).sum());
    for head in LEFT_OUT {
        if widest > room(&shown) {
            shown.retain(|column| column.head != head);
        }
    }
    let name_room = room(&shown).max(NAME_WIDTH);
    for name in &mut names {
        *name = folded(name, name_room);
    }

    let heads: Vec<&str> = ["plan"].into_iter().chain(shown.iter().map(|c| c.head)).collect();
    let mut table = empty_table(&heads);
    for (at, name) in names.into_iter().enumerate() {
        table.add_row([name].into_iter().chain(shown.iter().map(|c| c.cells[at].clone())));
    }
    align(&mut table, &[0]);
    let mut notes = vec![format!("Means of {}, heaviest first.", days(comparison.days))];
    notes.push("Range: eight days in ten lie in it.".to_owned());
    if ranked.len() > 1 {
        notes.push("Best on: share of days with the heaviest net.".to_owned());
    }
    format!("{}\n{}", table.trim_fmt(), lines(&notes, width).join("\n"))
}

/// Sentences on as few lines of `width` as they fill, none broken.
fn lines(sentences: &[String], width: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for sentence in sentences {
        match lines.last_mut() {
            Some(line) if line.width() + 1 + sentence.width() <= width => {
                line.push(' ');
                line.push_str(sentence);
            }
            _ => lines.push(sentence.clone()),
        }
    }
    lines
}

/// A name on lines of `room` columns; broken after hyphens and spaces where there are any.
fn folded(name: &str, room: usize) -> String {
    let mut rest = name.to_owned();
    let mut lines = Vec::new();
    while rest.width() > room {
        let mut fits = 0;
        let mut breaks_at = 0;
        for (place, c) in rest.char_indices() {
            let end = place + c.len_utf8();
            if rest[..end].width() > room {
                break;
            }
            fits = end;
            if c == '-' || c == ' ' {
                breaks_at = end;
            }
        }
        let tail = rest.split_off(if breaks_at > 0 { breaks_at } else { fits });
        lines.push(rest);
        rest = tail;
    }
    lines.push(rest);
    lines.join("\n")
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
        .set_width(WIDTH as u16)
        .set_header(header.iter().copied());
    table
}

/// Words to the left, numbers to the right; `words` are the columns of words. Only the first column, of names,
/// is folded where the lines would be too long.
pub(super) fn align(table: &mut Table, words: &[usize]) {
    let last = table.column_count().saturating_sub(1);
    // The line between two columns is blank and takes one column itself.
    for (place, column) in table.column_iter_mut().enumerate() {
        column.set_padding((0, if place == last { 0 } else { GAP as u16 - 1 }));
        if place > 0 {
            column.set_constraint(ColumnConstraint::ContentWidth);
        }
        if !words.contains(&place) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
}
