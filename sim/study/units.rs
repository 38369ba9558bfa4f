//! Units of weight: grams are counted, kilograms are shown.

use crate::stats::Interval;

/// Converts grams to kilograms [kg].
pub(super) fn kg(grams: f64) -> f64 {
    grams / 1000.0
}

/// Converts both ends of an interval from grams to kilograms [kg].
pub(super) fn interval_kg(interval_g: Interval) -> Interval {
    Interval { low: kg(interval_g.low), high: kg(interval_g.high) }
}
