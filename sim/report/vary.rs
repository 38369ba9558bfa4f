//! One value gone through: the curve, and its table.

use super::measures::{weight, weight_range};
use super::table::{align, empty_table, shown_name};
use super::value::shown_values;
use crate::scenario::Units;

/// What one plan weighed at one value.
#[derive(Clone, Debug, PartialEq)]
pub struct VaryPoint {
    /// The value as the user writes it, `2 min`.
    pub label: String,
    /// The value in the unit of the axis.
    pub value: f64,
    /// Mean weight [kg].
    pub mean_kg: f64,
    /// Lower end of the mean's 95 % interval [kg].
    pub low95_kg: f64,
    /// Upper end [kg].
    pub high95_kg: f64,
    /// One day in ten is below [kg].
    pub p10_kg: f64,
    /// One day in ten is above [kg].
    pub p90_kg: f64,
    /// Whether it may be within two per cent of the best, for all that is known.
    pub near_best: bool,
}

/// One plan's weight along one value.
#[derive(Clone, Debug, PartialEq)]
pub struct VaryCurve {
    /// The plan.
    pub plan: String,
    /// The dotted key that was varied.
    pub key: String,
    /// Points, in any order.
    pub points: Vec<VaryPoint>,
    /// What stands at the axis, with its unit: `recast interval [min]`.
    pub axis: String,
    /// Whether the axis is logarithmic; values of nought and below then fall back to a plain one.
    pub log_axis: bool,
}

/// Nearly as good as the best: this share of its mean.
pub(super) const NEAR: f64 = 0.98;

impl VaryCurve {
    /// Points that can be shown, by value.
    pub(super) fn sorted(&self) -> Vec<&VaryPoint> {
        let sound = |point: &&VaryPoint| point.value.is_finite() && point.mean_kg.is_finite();
        let mut points: Vec<_> = self.points.iter().filter(sound).collect();
        points.sort_by(|a, b| a.value.total_cmp(&b.value));
        points
    }

    /// Whether the value was varied and made no difference at all.
    pub(super) fn is_flat(&self) -> bool {
        let points = self.sorted();
        let same = |two: &[&VaryPoint]| two[0].mean_kg.total_cmp(&two[1].mean_kg).is_eq();
        points.len() > 1 && points.windows(2).all(same)
    }

    /// Said of a curve that has no best point.
    pub(super) fn without_best(&self) -> &'static str {
        let points = self.sorted();
        match points.as_slice() {
            [] => "No value was fished.",
            points if points.iter().all(|point| point.mean_kg <= 0.0) => {
                "Nothing was caught at any value."
            }
            _ if self.is_flat() => "The value makes no difference to this plan.",
            _ => "",
        }
    }

    /// What the points, by value, are called for the eye.
    pub(super) fn labels(&self) -> Vec<String> {
        let written: Vec<_> = self.sorted().iter().map(|point| point.label.as_str()).collect();
        shown_values(&written)
    }

    /// The key or axis without the plan, which is named beside it: `recast` for `plan.two-minutes.recast`.
    pub(super) fn of_plan(&self, words: &str) -> String {
        let prefix = format!("plan.{}.", self.plan);
        shown_name(words.strip_prefix(prefix.as_str()).unwrap_or(words))
    }

    /// The point of the highest mean, the first of equals; none where it made no difference or nothing was
    /// caught.
    pub(super) fn best(&self) -> Option<&VaryPoint> {
        self.sorted()
            .into_iter()
            .filter(|point| point.mean_kg > 0.0 && !self.is_flat())
            .reduce(|best, point| if point.mean_kg > best.mean_kg { point } else { best })
    }
}

/// A table of the points in order of value, with the best mean and those within two per cent of it marked in
/// words.
///
/// Values are shown to three figures or so, and as they were written where that would make two look the same.
#[must_use]
pub fn vary_table(curve: &VaryCurve, units: Units) -> String {
    let mut table =
        empty_table(&[&curve.of_plan(&curve.key), "weight", "95 % of the mean", "range", ""]);
    let best = curve.best();
    for (point, label) in curve.sorted().into_iter().zip(curve.labels()) {
        let note = match best {
            Some(best) if std::ptr::eq(best, point) => "best mean",
            Some(best) if point.mean_kg >= NEAR * best.mean_kg => "within 2 %",
            Some(_) if point.near_best => "may be within 2 %",
            _ => "",
        };
        table.add_row([
            label,
            weight(point.mean_kg, units),
            format!("{} to {}", weight(point.low95_kg, units), weight(point.high95_kg, units)),
            weight_range(point.p10_kg, point.p90_kg, units),
            note.to_owned(),
        ]);
    }
    align(&mut table, &[0, 4]);
    let lines: Vec<_> = table.lines().map(|line| line.trim_end().to_owned()).collect();
    let notes = [
        format!("Plan {}.", shown_name(&curve.plan)),
        "Range: eight days in ten lie in it.".to_owned(),
        curve.without_best().to_owned(),
    ];
    format!("{}\n{}", lines.join("\n"), notes.join(" ").trim_end())
}
