//! The table of one plan's weight along the values of one key.

use crate::report::format::{
    align_columns, empty_table, interval_ends, one_line, trimmed_lines, weight, weight_range,
};
use crate::report::view::{NEAR_BEST, ResponseCurve};
use crate::scenario::Units;

/// A table of the points in order of value; the best mean and those near it are marked in words.
///
/// Values are rounded to about three figures, and shown as written if that would make two look the same.
pub fn response_table(curve: &ResponseCurve, units: Units) -> String {
    let key = curve.without_plan(&curve.key);
    let mut table = empty_table(&[&key, "weight", "95\u{a0}% sure", "range", ""]);
    let best = curve.best();
    for (point, label) in curve.sorted().into_iter().zip(curve.labels()) {
        let note = match best {
            Some(best) if std::ptr::eq(best, point) => "best mean",
            Some(best) if point.mean_kg >= NEAR_BEST * best.mean_kg => "mean within 2\u{a0}%",
            Some(_) if point.is_near_best => "may be within 2\u{a0}%",
            _ => "",
        };
        table.add_row([
            label,
            weight(point.mean_kg, units),
            interval_ends(point.interval_kg, |kg| weight(kg, units)),
            weight_range(point.p10_kg, point.p90_kg, units),
            note.to_owned(),
        ]);
    }
    align_columns(&mut table, &[0, 4]);
    let notes = [
        format!("Plan {}.", one_line(&curve.plan)),
        "95\u{a0}% sure of the mean. Range: eight days in ten, unknowns included.".to_owned(),
        curve.without_best().to_owned(),
    ];
    format!("{}\n{}", trimmed_lines(&table), notes.join(" ").trim_end())
}
