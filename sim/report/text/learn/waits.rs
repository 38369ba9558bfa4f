//! Waits to a bite: a table by group, and what follows from it.

use crate::numerics::exp;
use crate::report::format::{
    align_columns, duration, empty_table, number, one_line, percent, trimmed_lines, wrap_column,
    wrapped,
};
use crate::study::{BiteRate, LearnResult, WaitGroup};

/// Narrowest column of names [columns].
const MIN_NAME_WIDTH: usize = 14;

/// Casts, bites, median wait and bite rate of each group, and of all casts.
pub(super) fn waits_table(result: &LearnResult, width: usize) -> String {
    let by =
        if result.groups.is_empty() { "casts".to_owned() } else { result.grouped_by.join(", ") };
    let mut table = empty_table(&[
        &by,
        "casts",
        "bites",
        "half bitten by",
        "95\u{a0}% sure",
        "bites an hour",
        "95\u{a0}% sure",
    ]);
    table.set_width(width.clamp(40, 100) as u16);
    for group in result.groups.iter().chain([&result.all]) {
        let rate = group.rate.as_ref();
        table.add_row([
            one_line(&group.name),
            group.casts.to_string(),
            group.bites.to_string(),
            median(group),
            median_range(group),
            rate.map_or_else(|| "–".to_owned(), |rate| number(rate.per_hour)),
            rate.map_or_else(|| "–".to_owned(), range),
        ]);
    }
    align_columns(&mut table, &[0]);
    wrap_column(&mut table, 0, MIN_NAME_WIDTH);
    let mut text = trimmed_lines(&table);
    let note = "Half bitten by: the wait by which half of the casts would have had a bite. Bites an hour: with a bait in the \
                water. 95\u{a0}% sure: that the true value lies in this range.";
    text.push('\n');
    text.push_str(&wrapped(note, width));
    let few: Vec<&WaitGroup> = result
        .groups
        .iter()
        .chain([&result.all])
        .filter(|group| group.more_bites_needed > 0)
        .collect();
    for group in few {
        text.push_str(&format!(
            "\n{}: too few bites for either figure; {} more would do.",
            one_line(&group.name),
            group.more_bites_needed
        ));
    }
    text
}

/// The median wait, or why there is none.
fn median(group: &WaitGroup) -> String {
    match group.median_s {
        Some(median_s) => duration(median_s),
        None if group.more_bites_needed > 0 => "–".to_owned(),
        None => format!("over {}", duration(group.known_until_s)),
    }
}

fn median_range(group: &WaitGroup) -> String {
    match (group.median_low95_s, group.median_high95_s) {
        (Some(low_s), Some(high_s)) => format!("{}–{}", duration(low_s), duration(high_s)),
        (Some(low_s), None) => format!("{} or more", duration(low_s)),
        (None, _) => "–".to_owned(),
    }
}

fn range(rate: &BiteRate) -> String {
    format!("{}–{}", number(rate.low95), number(rate.high95))
}

/// Whether the groups differ by more than chance. `None` if they were not compared.
pub(super) fn difference_sentence(result: &LearnResult) -> Option<String> {
    let difference = result.difference.as_ref()?;
    let chance = |p_value: f64| match p_value {
        p if p < 0.001 => "fewer than 1 in 1,000".to_owned(),
        p if p < 0.01 => format!("{:.0} in 1,000", 1000.0 * p),
        p => format!("{:.0} in 100", 100.0 * p),
    };
    let meaning = match difference.p_value {
        p if p < 0.01 => "so they are hardly chance",
        p if p < 0.05 => "so they may be chance, but probably are not",
        _ => "so they may well be chance",
    };
    let first = format!(
        "If these {} were alike, waits as different as these would come up in {} logs, {meaning}.",
        result.groups.len(),
        chance(difference.p_value)
    );
    let within = match difference.p_value_within_sessions {
        _ if result.totals.sessions < 2 => return Some(first),
        None => {
            "They were not fished in the same sessions, so this may be a difference between days."
                .to_owned()
        }
        Some(p) => format!("Compared within sessions only: {} logs.", chance(p)),
    };
    Some(format!("{first} {within}"))
}

/// How casts end.
pub(super) fn ends_sentence(all: &WaitGroup) -> String {
    let end = |end: &crate::study::EndShare| {
        let range = match (end.low95, end.high95) {
            (Some(low), Some(high)) => {
                format!(" (95\u{a0}% sure: {:.0}–{:.0}\u{a0}%)", 100.0 * low, 100.0 * high)
            }
            _ => String::new(),
        };
        format!("{} {}{range}", end.end, percent(end.share))
    };
    let ends: Vec<String> = all.ends.iter().map(end).collect();
    if ends.is_empty() {
        return "No cast ended in a bite, a snag, a robbed bait or a move.".to_owned();
    }
    format!(
        "Of baits left in the water, these shares end within {}: {}.",
        duration(all.known_until_s),
        ends.join(", ")
    )
}

/// Whether a bite becomes less likely as the wait goes on, and whether some casts seem to get none. `None` from too few
/// bites.
pub(super) fn shape_sentence(all: &WaitGroup) -> Option<String> {
    let fit = all.weibull.as_ref()?;
    let ends = [-1.96, 1.96].map(|errors: f64| fit.shape * exp(errors * fit.se_ln_shape));
    let range =
        format!("(shape {:.2}, 95\u{a0}% sure: {:.2} to {:.2})", fit.shape, ends[0], ends[1]);
    let first = match ends {
        [_, high] if high < 1.0 => format!(
            "The longer a bait lies, the less likely the next minute brings a bite {range}."
        ),
        [low, _] if low > 1.0 => format!(
            "The longer a bait lies, the more likely the next minute brings a bite {range}."
        ),
        _ => format!(
            "It is not clear whether a bite becomes more or less likely as the wait goes on {range}."
        ),
    };
    let never = all.never.as_ref().filter(|never| never.p_value < 0.05);
    let second = never.map(|never| {
        format!(
            " Within the waits of the log it looks as if {} of casts had no bite coming (95\u{a0}% sure: {:.0}–{:.0}\u{a0}%).",
            percent(never.share),
            100.0 * never.low95,
            100.0 * never.high95
        )
    });
    Some(first + &second.unwrap_or_default())
}

/// Bite rates by time since the cast, a line each. Empty if there are too few bites.
pub(super) fn hazard_lines(all: &WaitGroup) -> String {
    if all.hazard.is_empty() {
        return String::new();
    }
    let mut table = empty_table(&["since the cast", "bites", "bites an hour", "95\u{a0}% sure"]);
    for piece in &all.hazard {
        table.add_row([
            format!("{}–{}", duration(piece.from_s), duration(piece.to_s)),
            piece.bites.to_string(),
            number(piece.rate.per_hour),
            range(&piece.rate),
        ]);
    }
    align_columns(&mut table, &[0]);
    let note =
        "Each rate counts one bite more, at the rate of the whole log, so that none is nought.";
    format!("{}\n{note}", trimmed_lines(&table))
}
