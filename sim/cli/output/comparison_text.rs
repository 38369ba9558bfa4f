//! A comparison as text for the terminal.

use std::fmt::Write as _;

use crate::cli::terminal::{columns, wrapped, wrapped_item};
use crate::report::{
    aims_table, comparison_table_within, early_sentence, reasons, rules_fired_sentences,
    superiority_table, verdict, warning_text,
};
use crate::scenario::Units;
use crate::study::{Comparison, StopReason};

/// The comparison as tables and sentences.
pub(super) fn comparison_text(
    comparison: &Comparison,
    units: Units,
    are_days_fixed: bool,
) -> String {
    let mut text = format!("{}\n\n", comparison_table_within(comparison, units, columns()));
    // Writing to a string does not fail.
    let _ = writeln!(text, "{}", wrapped(&days_sentence(comparison)));
    if let Some(sentence) = early_sentence(comparison) {
        let _ = writeln!(text, "{}", wrapped(&sentence));
    }
    if are_days_fixed {
        let sentence = "All days are the same, with central values: plans differ only by chance within the day, so the \
                        intervals cover neither other days nor what is unknown about the fish.";
        let _ = writeln!(text, "{}", wrapped(sentence));
    }
    for sentence in verdict(comparison, units) {
        let _ = writeln!(text, "{}", wrapped(&sentence));
    }
    if let Some((table, notes)) = superiority_table(comparison, columns()) {
        let _ = writeln!(text, "\n{table}\n{}", wrapped(&notes.join(" ")));
    }
    if let Some(table) = aims_table(comparison, units, columns()) {
        let _ = writeln!(text, "\n{table}");
    }
    let warnings: Vec<String> =
        comparison.warnings.iter().map(|warning| warning_text(warning, units)).collect();
    for (heading, sentences) in [
        ("Why", reasons(comparison, units)),
        ("Rules", rules_fired_sentences(comparison)),
        ("Note", warnings),
    ] {
        push_list(&mut text, heading, &sentences);
    }
    text
}

/// Appends a list of sentences under a heading; nothing if there are none.
pub(super) fn push_list(text: &mut String, heading: &str, sentences: &[String]) {
    if sentences.is_empty() {
        return;
    }
    let _ = writeln!(text, "\n{heading}:");
    for sentence in sentences {
        let _ = writeln!(text, "{}", wrapped_item(sentence));
    }
}

/// How many days were fished, and why no more.
fn days_sentence(comparison: &Comparison) -> String {
    let days = format!("{} days of seed {}", comparison.days, comparison.stamp.seed);
    match comparison.stopped_because {
        StopReason::Requested => format!("{days}, as asked."),
        StopReason::Clear if comparison.pairs.is_empty() => {
            format!("{days}; there is no other plan to compare with.")
        }
        StopReason::Clear => format!("{days}: the verdict is clear."),
        StopReason::Limit => format!("{days}, the limit: the verdict is still not clear."),
    }
}
