//! The three ways in which the heaviest plan beats each other, side by side and never mixed up.

use super::measures::{number, percent};
use super::ranking::{Facing, by_weight};
use super::table::{align, empty_table, shown_name};
use crate::study::{Chance, Comparison};

/// What the columns mean, a sentence each.
const NOTES: [&str; 4] = [
    "Same day: heavier on the same day.",
    "Two days: heavier on one day than the other on another.",
    "On average: the higher mean, as far as what nobody knows about fish allows.",
    "Saved: so many times the days, were they not the same for both (their correlation).",
];

/// A table of the heaviest plan against every other, with a note on each column; nothing for a single plan.
///
/// `columns` is the room on the terminal.
#[must_use]
pub fn beats_table(comparison: &Comparison, columns: usize) -> Option<(String, Vec<String>)> {
    let ranked = by_weight(comparison);
    let (&best, others) = ranked.split_first()?;
    let facings: Vec<_> =
        others.iter().filter_map(|other| Facing::of(comparison, best, other)).collect();
    if facings.is_empty() {
        return None;
    }
    let head = format!("{} against", shown_name(&best.name));
    let mut table = empty_table(&[&head, "same day", "two days", "on average", "saved"]);
    table.set_width(columns.clamp(40, 100) as u16);
    for facing in &facings {
        table.add_row([
            shown_name(&facing.other.name),
            with_ends(Some(facing.same_day)),
            with_ends(facing.two_days),
            with_ends(facing.on_average),
            saved(facing),
        ]);
    }
    align(&mut table, &[0]);
    Some((table.trim_fmt(), NOTES.map(str::to_owned).to_vec()))
}

/// How many times the days are saved, and the correlation that saves them: `5.8× (0.83)`.
fn saved(facing: &Facing<'_>) -> String {
    match (facing.days_saved_factor, facing.correlation) {
        (Some(factor), Some(r)) => format!("{}× ({r:.2})", number(factor)),
        (Some(factor), None) => format!("{}×", number(factor)),
        (None, _) => "–".to_owned(),
    }
}

/// A chance with the ends of its interval: `74 % (67–80)`.
pub(super) fn with_ends(chance: Option<Chance>) -> String {
    let Some(chance) = chance else { return "–".to_owned() };
    if chance.low95 >= 0.995 || chance.high95 <= 0.005 {
        // Ends that round to the same say no more.
        return percent(chance.share);
    }
    let end = |share: f64| format!("{:.0}", 100.0 * share);
    format!("{} ({}–{})", percent(chance.share), end(chance.low95), end(chance.high95))
}
