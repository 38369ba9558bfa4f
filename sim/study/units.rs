//! Units of weight: grams are counted, kilograms are shown.

/// Converts grams to kilograms [kg].
pub(super) fn kg(grams: f64) -> f64 {
    grams / 1000.0
}

/// Converts grams to kilograms for a document; `None` becomes NaN, which JSON writes as `null` [kg].
pub(super) fn kg_or_nan(grams: Option<f64>) -> f64 {
    grams.map_or(f64::NAN, kg)
}
