//! The table of a comparison: a row for each plan.

use unicode_width::UnicodeWidthStr;

use super::verdict::verdict;
use crate::report::format::{
    GAP, WIDTH, align_columns, counted, day_range_kg, empty_table, number, one_line, percent,
    range_in_column, range_note, weight, weight_in_column, weight_range,
};
use crate::report::view::by_weight;
use crate::scenario::Units;
use crate::study::{Comparison, PlanResult};

/// Minimum width of the column of names.
const MIN_NAME_WIDTH: usize = 8;
/// Columns are left out for names up to this width; longer names are wrapped.
const MAX_UNWRAPPED_NAME: usize = 32;
/// Heads of the columns that are left out if the terminal is narrow, in this order.
const OPTIONAL_COLUMNS: [&str; 3] = ["casts", "bait", "avg fish"];

/// A column: its head, and a cell for each plan.
pub(super) struct Column {
    pub(super) head: &'static str,
    cells: Vec<String>,
}

impl Column {
    /// Its width with the gap before it.
    fn width(&self) -> usize {
        GAP + self.cells.iter().map(|cell| cell.width()).fold(self.head.width(), usize::max)
    }
}

/// A table of all plans, the heaviest mean first, at most 100 columns wide.
pub fn comparison_table(comparison: &Comparison, units: Units) -> String {
    comparison_table_within(comparison, units, WIDTH)
}

/// The same table for a terminal of `columns`, of which it uses 40 to 100.
///
/// In a narrow terminal casts, bait and average fish are left out, in this order; then long names are wrapped. A number
/// is never broken.
pub fn comparison_table_within(comparison: &Comparison, units: Units, columns: usize) -> String {
    let width = columns.clamp(40, WIDTH);
    let ranked = by_weight(comparison);
    let names = ranked.iter().map(|plan| one_line(&plan.name)).collect();
    let mut notes = vec![
        format!("Means of {}, heaviest first.", counted(comparison.days, "day")),
        range_note(ranked.iter().all(|plan| plan.known_water.is_some())).to_owned(),
    ];
    if ranked.len() > 1 {
        notes.push("Best on: share of days with the heaviest net.".to_owned());
    }
    table_within(width, "plan", names, all_columns(&ranked, units), &notes)
}

/// A table of names and columns with notes below it, `width` columns wide; `head` stands over the names.
pub(super) fn table_within(
    width: usize,
    head: &str,
    mut names: Vec<String>,
    mut shown: Vec<Column>,
    notes: &[String],
) -> String {
    let widest = names.iter().map(|name| name.width()).fold(head.width(), usize::max);
    let room = |shown: &[Column]| width.saturating_sub(shown.iter().map(Column::width).sum());
    for head in OPTIONAL_COLUMNS {
        if widest.min(MAX_UNWRAPPED_NAME) > room(&shown) {
            shown.retain(|column| column.head != head);
        }
    }
    let name_width = room(&shown).max(MIN_NAME_WIDTH);
    for name in &mut names {
        *name = textwrap::fill(name, name_options(name_width));
    }

    let heads: Vec<&str> =
        [head].into_iter().chain(shown.iter().map(|column| column.head)).collect();
    let mut table = empty_table(&heads);
    for (row, name) in names.into_iter().enumerate() {
        let cells = shown.iter().map(|column| column.cells[row].clone());
        table.add_row([name].into_iter().chain(cells));
    }
    align_columns(&mut table, &[0]);
    format!("{}\n{}", table.trim_fmt(), unbroken_sentences(notes, width))
}

/// The table of a comparison and its verdict as Markdown, for a page or a forum.
pub fn comparison_markdown(comparison: &Comparison, units: Units) -> String {
    let ranked = by_weight(comparison);
    let names = ranked.iter().map(|plan| one_line(&plan.name)).collect();
    let mut lines = markdown_rows("plan", names, &all_columns(&ranked, units));
    let (days, seed) = (counted(comparison.days, "day"), comparison.stamp.seed);
    lines.push(format!("\n{days} of seed {seed}, every plan on the same days.\n"));
    let sentences = verdict(comparison, units);
    lines.extend(sentences.iter().map(|sentence| format!("- {}", markdown_cell(sentence))));
    format!("{}\n", lines.join("\n"))
}

/// A text without characters that would end a cell of a Markdown table.
pub(super) fn markdown_cell(text: &str) -> String {
    text.replace('\\', r"\\").replace('|', r"\|")
}

/// The rows of a Markdown table of names and columns; `head` stands over the names.
pub(super) fn markdown_rows(head: &str, names: Vec<String>, columns: &[Column]) -> Vec<String> {
    let heads: Vec<&str> = columns.iter().map(|column| column.head).collect();
    let mut lines = vec![
        format!("| {head} | {} |", heads.join(" | ")),
        format!("|---|{}", "---:|".repeat(heads.len())),
    ];
    for (row, name) in names.iter().enumerate() {
        let cells = columns.iter().map(|column| markdown_cell(column.cells[row].trim()));
        let name = std::iter::once(markdown_cell(name));
        lines.push(format!("| {} |", name.chain(cells).collect::<Vec<_>>().join(" | ")));
    }
    lines
}

/// All columns that follow the names.
pub(super) fn all_columns(ranked: &[&PlanResult], units: Units) -> Vec<Column> {
    let top_kg = ranked.iter().map(|plan| plan.weight_kg.p90).fold(0.0, f64::max);
    let column = |head, cell: &dyn Fn(&PlanResult) -> String| Column {
        head,
        cells: ranked.iter().map(|plan| cell(plan)).collect(),
    };
    vec![
        column("weight", &|plan| match units {
            Units::Imperial => weight(plan.weight_kg.mean, units),
            Units::Metric => weight_in_column(plan.weight_kg.mean, top_kg, units),
        }),
        column("range", &|plan| {
            let (low_kg, high_kg) = day_range_kg(plan);
            match units {
                Units::Imperial => weight_range(low_kg, high_kg, units),
                Units::Metric => range_in_column(low_kg, high_kg, top_kg, units),
            }
        }),
        column("fish", &|plan| number(plan.fish.mean)),
        column("avg fish", &|plan| match plan.swim.fish_kg {
            kg if kg > 0.0 => weight(kg, units),
            _ => "–".to_owned(),
        }),
        column("casts", &|plan| format!("{:.0}", plan.casts.mean)),
        column("bait", &|plan| weight(plan.bait_kg.mean, units)),
        column("best on", &|plan| percent(plan.best_share)),
    ]
}

/// How names are wrapped: after spaces and hyphens, or anywhere in a long word.
fn name_options(width: usize) -> textwrap::Options<'static> {
    textwrap::Options::new(width)
        .word_splitter(textwrap::WordSplitter::HyphenSplitter)
        .wrap_algorithm(textwrap::WrapAlgorithm::FirstFit)
        .break_words(true)
}

/// Sentences on as few lines of `width` as possible, none broken.
fn unbroken_sentences(sentences: &[String], width: usize) -> String {
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
    lines.join("\n")
}
