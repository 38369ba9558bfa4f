//! The three chances that the heaviest plan beats each other one, kept apart.

use crate::report::format::{align_columns, empty_table, number, one_line, percent};
use crate::report::view::{PairView, by_weight};
use crate::stats::Interval;
use crate::study::{Comparison, Estimate, PairResult};

/// The meaning of the columns, a sentence each.
const NOTES: [&str; 5] = [
    "Same day: chance that it is heavier when both are fished on the same day; level days count for neither.",
    "Different days: chance that it is heavier when they are fished on different days; equal weights count half.",
    "On average: chance that its true mean is higher, unknowns about fish included.",
    "After each chance, in brackets: 95\u{a0}% sure that it lies in this range.",
    "Days saved: how many times as many days you would need if the plans were not fished on the same days (in brackets \
     how closely their weights go together, 1 at most: the correlation).",
];

/// A table of the heaviest plan against each other one, with a note on each column; `None` for a single plan.
///
/// `columns` is the width of the terminal.
pub fn superiority_table(comparison: &Comparison, columns: usize) -> Option<(String, Vec<String>)> {
    let ranked = by_weight(comparison);
    let (&best, others) = ranked.split_first()?;
    let pairs: Vec<_> =
        others.iter().filter_map(|other| PairView::new(comparison, best, other)).collect();
    if pairs.is_empty() {
        return None;
    }
    let head = format!("{} beats", one_line(&best.name));
    let mut table = empty_table(&[&head, "same day", "different days", "on average", "days saved"]);
    table.set_width(columns.clamp(40, 100) as u16);
    for pair in &pairs {
        let chances = &pair.result.superiority;
        table.add_row([
            one_line(&pair.second.name),
            chance_with_interval(Some(chances.same_day)),
            chance_with_interval(chances.independent_days),
            chance_with_interval(chances.mean_higher),
            days_saved(&pair.result),
        ]);
    }
    align_columns(&mut table, &[0]);
    Some((table.trim_fmt(), NOTES.map(str::to_owned).to_vec()))
}

/// The factor by which days are saved, and the correlation that saves them: `5.8× (0.83)`.
fn days_saved(pair: &PairResult) -> String {
    match (pair.days_saved_factor, pair.correlation) {
        (Some(factor), Some(r)) => format!("{}× ({r:.2})", number(factor)),
        (Some(factor), None) => format!("{}×", number(factor)),
        (None, _) => "–".to_owned(),
    }
}

/// A chance with its 95 % interval: `74 % (67–80)`; without it if both ends round to the chance itself.
pub(crate) fn chance_with_interval(chance: Option<Estimate>) -> String {
    let Some(chance) = chance else { return "–".to_owned() };
    let end = |share: f64| format!("{:.0}", 100.0 * share);
    match chance.interval {
        Some(Interval { low, high }) if low < 0.995 && high > 0.005 => {
            format!("{} ({}–{})", percent(chance.value), end(low), end(high))
        }
        _ => percent(chance.value),
    }
}
