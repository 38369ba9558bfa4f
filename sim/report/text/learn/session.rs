//! Bites over the session, in a table and a sentence.

use crate::report::format::{align_columns, duration, empty_table, number, trimmed_lines, weight};
use crate::scenario::Units;
use crate::study::LearnResult;

/// Bites in each hour of the session.
pub(super) fn hours_table(result: &LearnResult) -> String {
    let mut table = empty_table(&[
        "hour of the session",
        "bites",
        "landed",
        "bait in the water",
        "bites an hour",
        "95\u{a0}% sure",
    ]);
    for hour in &result.session.hours {
        let rate = hour.rate.as_ref();
        table.add_row([
            hour.hour.to_string(),
            hour.bites.to_string(),
            hour.landed.map_or_else(|| "–".to_owned(), |landed| landed.to_string()),
            duration(hour.exposure_s),
            rate.map_or_else(|| "–".to_owned(), |rate| number(rate.per_hour)),
            rate.map_or_else(
                || "–".to_owned(),
                |rate| format!("{}–{}", number(rate.low95), number(rate.high95)),
            ),
        ]);
    }
    align_columns(&mut table, &[0]);
    trimmed_lines(&table)
}

/// What the session gave for each hour, and whether bites fall off.
pub(super) fn trend_sentence(result: &LearnResult, units: Units) -> String {
    let session = &result.session;
    let mut text = String::new();
    if let Some(landed_per_hour) = session.landed_per_hour {
        text = format!("For each hour of fishing {} fish were landed", number(landed_per_hour));
        if result.totals.weighed > 0 {
            let weighed = weight(session.weight_kg_per_hour, units);
            text.push_str(&format!(", {weighed} of weighed fish"));
        }
        text.push_str(". ");
    }
    let ends = session.factor_low95.zip(session.factor_high95);
    let Some((factor, (low, high))) = session.factor_per_hour.zip(ends) else {
        text.push_str("There are too few bites to say whether they fall off over the session.");
        return text;
    };
    let change = |factor: f64| match 100.0 * (factor - 1.0) {
        change if change < 0.0 => format!("−{:.0}\u{a0}%", -change),
        change => format!("+{change:.0}\u{a0}%"),
    };
    let trend = match (low, high) {
        (_, high) if high < 1.0 => "Bites fall off over the session",
        (low, _) if low > 1.0 => "Bites pick up over the session",
        _ => "It is not clear whether bites fall off over the session",
    };
    text.push_str(&format!(
        "{trend}: {} an hour (95\u{a0}% sure: {} to {}).",
        change(factor),
        change(low),
        change(high)
    ));
    text
}
