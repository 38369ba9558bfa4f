//! A comparison across waters in sentences and tables.

use super::comparison::{Column, all_columns, markdown_cell, markdown_rows, table_within};
use super::superiority::chance_with_interval;
use super::verdict::{MIN_DAYS_FOR_VERDICT, interval_words};
use super::warnings::warning_text;
use crate::report::format::{
    WIDTH, align_columns, counted, duration, empty_table, interval_ends, is_shown_as_zero,
    one_line, range_note, weight,
};
use crate::report::view::{WaterRow, pair_between, rows_by_weight};
use crate::scenario::Units;
use crate::stats::Verdict;
use crate::study::{Comparison, PairDays, StopReason, Warning, WaterPair, WatersComparison};

/// What stands over the names of the rows.
const HEAD: &str = "water: plan";

/// The meaning of the columns, a sentence each.
const NOTES: [&str; 4] = [
    "Ahead by: difference of the mean weights; 95\u{a0}% sure, for all pairs at once, that it lies between the two ends.",
    "Different days: chance that a day of it is heavier than some day of the other; in brackets, 95\u{a0}% sure.",
    "Own days: each water has days of its own, and the two sets of days are compared as wholes.",
    "Same days: both plans are of one water and are compared day by day.",
];

/// A table of the plans of all waters, the heaviest mean first, for a terminal of `columns`.
pub fn waters_table(waters: &WatersComparison, units: Units, columns: usize) -> String {
    let rows = rows_by_weight(waters);
    let is_known = rows.iter().all(|row| row.plan.known_water.is_some());
    let notes = [
        format!("Means of {} on each water, heaviest first.", counted(waters.days, "day")),
        range_note(is_known).to_owned(),
    ];
    table_within(columns.clamp(40, WIDTH), HEAD, names(&rows), shown_columns(&rows, units), &notes)
}

/// The same table and the verdict as Markdown.
pub fn waters_markdown(waters: &WatersComparison, units: Units) -> String {
    let rows = rows_by_weight(waters);
    let mut lines = markdown_rows(HEAD, names(&rows), &shown_columns(&rows, units));
    lines.push(format!("\n{}\n", markdown_cell(&days_fished(waters))));
    let sentences = waters_verdict(waters, units);
    lines.extend(sentences.iter().map(|sentence| format!("- {}", markdown_cell(sentence))));
    format!("{}\n", lines.join("\n"))
}

/// How many days were fished and why no more, then a sentence for the heaviest plan against each other one.
pub fn waters_verdict(waters: &WatersComparison, units: Units) -> Vec<String> {
    let rows = rows_by_weight(waters);
    let mut sentences = vec![stop_sentence(waters)];
    if waters.days < MIN_DAYS_FOR_VERDICT {
        sentences.push(format!("{} so far: too early to say.", counted(waters.days, "day")));
    }
    let Some((best, others)) = rows.split_first() else { return sentences };
    sentences.extend(others.iter().filter_map(|other| {
        let pair = pair_between(waters, best, other)?;
        Some(sentence(&best.name, &other.name, &pair, waters, units))
    }));
    sentences
}

/// A table of the heaviest plan against each other one, with a note on each column; `None` for a single plan.
pub fn waters_chances(
    waters: &WatersComparison,
    units: Units,
    columns: usize,
) -> Option<(String, Vec<String>)> {
    let rows = rows_by_weight(waters);
    let (best, others) = rows.split_first()?;
    let head = format!("{} against", one_line(&best.name));
    let mut table = empty_table(&[&head, "ahead by", "different days", "compared on"]);
    table.set_width(columns.clamp(40, WIDTH) as u16);
    for other in others {
        let pair = pair_between(waters, best, other)?;
        let ends = interval_ends(pair.difference_kg.interval, |kg| weight(kg, units));
        let by = weight(pair.difference_kg.value, units);
        let days = match pair.days {
            PairDays::Own => "own days",
            PairDays::Same => "same days",
        };
        table.add_row([
            one_line(&other.name),
            format!("{by} ({ends})"),
            chance_with_interval(pair.independent_days),
            days.to_owned(),
        ]);
    }
    align_columns(&mut table, &[0]);
    (!others.is_empty()).then(|| (table.trim_fmt(), NOTES.map(str::to_owned).to_vec()))
}

/// What the reader should know: how far the waters can be compared, and the warnings of each.
pub fn waters_notes(waters: &WatersComparison, units: Units) -> Vec<String> {
    let minutes = |water: &Comparison| {
        let curves = water.plans.iter().filter_map(|plan| plan.curve.last());
        curves.map(|end| end.minute).fold(0.0, f64::max)
    };
    let mut notes = Vec::new();
    if waters.waters.windows(2).any(|pair| (minutes(&pair[0]) - minutes(&pair[1])).abs() > 0.0) {
        let length =
            |water: &Comparison| format!("{} {}", name(water), duration(60.0 * minutes(water)));
        let lengths: Vec<String> = waters.waters.iter().map(length).collect();
        notes.push(format!(
            "The sessions differ in length ({}); weights are those of whole sessions.",
            lengths.join(", ")
        ));
    }
    for water in &waters.waters {
        // That the best plan of one water is not clear is no fault here, and few days are said once.
        let is_new = |warning: &&Warning| {
            !matches!(warning, Warning::Unclear { .. } | Warning::FewDays { .. })
        };
        let warnings = water.warnings.iter().filter(is_new);
        notes.extend(
            warnings.map(|warning| format!("{}: {}", name(water), warning_text(warning, units))),
        );
    }
    notes
}

/// Name of a water on one line.
fn name(water: &Comparison) -> String {
    one_line(&water.stamp.scenario)
}

fn names(rows: &[WaterRow<'_>]) -> Vec<String> {
    rows.iter().map(|row| one_line(&row.name)).collect()
}

/// The columns of a comparison that have a meaning across waters: no plan is best on a day that the others did not have.
fn shown_columns(rows: &[WaterRow<'_>], units: Units) -> Vec<Column> {
    let plans: Vec<_> = rows.iter().map(|row| row.plan).collect();
    let mut columns = all_columns(&plans, units);
    columns.retain(|column| column.head != "best on");
    columns
}

/// Which days were fished where: `200 days on each water: pond-a seed 1, pond-b seed 2`.
fn days_fished(waters: &WatersComparison) -> String {
    let seeds = waters.waters.iter();
    let seeds: Vec<String> =
        seeds.map(|water| format!("{} seed {}", name(water), water.stamp.seed)).collect();
    format!("{} on each water ({})", counted(waters.days, "day"), seeds.join(", "))
}

fn stop_sentence(waters: &WatersComparison) -> String {
    let days = days_fished(waters);
    match waters.stopped_because {
        StopReason::Requested => format!("{days}, as asked."),
        StopReason::Clear => format!("{days}: the verdict is clear."),
        StopReason::Limit => format!("{days}, the limit: the verdict is still not clear."),
    }
}

/// The verdict on one pair.
fn sentence(
    first: &str,
    second: &str,
    pair: &WaterPair,
    waters: &WatersComparison,
    units: Units,
) -> String {
    let (first, second) = (one_line(first), one_line(second));
    let kg = pair.difference_kg.value;
    let interval = interval_words(pair.difference_kg.interval, units);
    let days = match pair.days {
        PairDays::Same => "on the same days",
        PairDays::Own => "each on days of its own",
    };
    match pair.verdict {
        Verdict::Better => {
            let by = weight(kg, units);
            if waters.days < MIN_DAYS_FOR_VERDICT {
                return format!(
                    "So far {first} is {by} a session ahead of {second} ({interval}), {days}."
                );
            }
            format!("{first} beats {second} by {by} a session ({interval}), {days}.")
        }
        Verdict::Equivalent => {
            let margin = weight(waters.rule.margin_kg, units);
            format!(
                "{first} and {second} are level, {days}: their means differ by less than {margin} a session ({interval})."
            )
        }
        _ if is_shown_as_zero(kg, units) => format!(
            "Too close to call: {first} and {second} have the same mean weight, {days} ({interval})."
        ),
        _ => {
            let by = weight(kg.abs(), units);
            format!(
                "Too close to call: on average {first} is {by} a session ahead of {second}, {days} ({interval})."
            )
        }
    }
}
