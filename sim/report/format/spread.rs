//! The two kinds of spread: days on a water that one knows, and those days with what nobody knows about fish.

use crate::study::PlanResult;

/// Where eight days in ten lie: on a water that one knows if days enough show it, otherwise over all unknowns [kg].
pub(crate) fn day_range_kg(plan: &PlanResult) -> (f64, f64) {
    match &plan.known_water {
        Some(known) => (known.p10_kg, known.p90_kg),
        None => (plan.weight_kg.p10, plan.weight_kg.p90),
    }
}

/// What a range means; `is_known` if every one of them is that of a water that one knows.
pub(crate) fn range_note(is_known: bool) -> &'static str {
    if is_known {
        "Range: eight days in ten, if one knew the fish."
    } else {
        "Range: eight days in ten, unknowns about fish included."
    }
}
