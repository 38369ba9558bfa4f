//! The whole text about a log.

use super::cautions::cautions;
use super::recast::recast_sentences;
use super::session::{hours_table, trend_sentence};
use super::waits::{difference_sentence, ends_sentence, hazard_lines, shape_sentence, waits_table};
use crate::report::format::{counted, duration, grouped, weight, wrapped, wrapped_item};
use crate::scenario::Units;
use crate::study::LearnResult;

/// What a log says in words, on lines of `width` characters at most.
pub fn learn_text(result: &LearnResult, units: Units, width: usize) -> String {
    let fill = |text: &str| wrapped(text, width);
    let item = |text: &String| wrapped_item(text, width);
    let list = |items: &[String]| items.iter().map(item).collect::<Vec<_>>().join("\n");
    let mut paragraphs = vec![fill(&heading(result, units)), waits_table(result, width)];
    let waits: Vec<String> = [
        difference_sentence(result),
        Some(ends_sentence(&result.all)),
        shape_sentence(&result.all),
    ]
    .into_iter()
    .flatten()
    .collect();
    paragraphs.push(list(&waits));
    let hazard = hazard_lines(&result.all);
    if !hazard.is_empty() {
        paragraphs.push(hazard);
    }
    paragraphs.push(format!("When to recast:\n{}", list(&recast_sentences(result))));
    paragraphs.push(hours_table(result));
    paragraphs.push(fill(&trend_sentence(result, units)));
    let cautions = cautions(result);
    if !cautions.is_empty() {
        paragraphs.push(format!("Note:\n{}", list(&cautions)));
    }
    paragraphs.join("\n\n") + "\n"
}

/// What is in the log, and how far it reaches.
fn heading(result: &LearnResult, units: Units) -> String {
    let totals = &result.totals;
    let mut parts = vec![
        counted(totals.sessions, "session"),
        counted(totals.casts, "cast"),
        counted(totals.bites, "bite"),
        match (totals.landed, totals.landed_unknown) {
            (Some(landed), 0) => format!("{landed} landed"),
            (Some(landed), unknown) => {
                format!("{landed} landed ({unknown} not written)")
            }
            (None, _) => "which were landed is not written".to_owned(),
        },
    ];
    if totals.weighed > 0 {
        parts.push(format!("{} in the net", weight(totals.weight_kg, units)));
    }
    let unbitten = match result.all.casts - result.all.bites {
        0 => "No cast is written down as one without a bite.".to_owned(),
        1 => "The cast without a bite counts as a wait of at least its length.".to_owned(),
        n => format!(
            "The {} casts without a bite count as waits of at least their length.",
            grouped(n)
        ),
    };
    let (known, longest) =
        (duration(result.all.known_until_s), duration(result.all.longest_wait_s));
    let reach = if known == longest {
        format!("No cast waited longer than {longest}")
    } else {
        format!("Few casts waited longer than {known}, and none longer than {longest}")
    };
    format!("{}. {unbitten} {reach}: the log says nothing beyond that.", parts.join(", "))
}
