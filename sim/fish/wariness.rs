//! Whether a fish that meets a hookbait takes it: boldness, lessons and size.

use super::params::FishParams;

/// Captures that a fish has suffered or seen today.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Experience {
    /// Times it was hooked itself.
    pub hooked: u32,
    /// Times it was near when another was hooked.
    pub seen: u32,
}

impl Experience {
    /// Willingness left, 1 for a fish without lessons: m = m∞ + (1 − m∞) exp(−k₁ n_own − k₂ n_seen).
    #[must_use]
    pub fn willingness(&self, params: &FishParams) -> f64 {
        let lessons = params.own_capture_lesson * f64::from(self.hooked)
            + params.seen_capture_lesson * f64::from(self.seen);
        params.wary_floor + (1.0 - params.wary_floor) * (-lessons).exp()
    }
}

/// Chance that a fish takes the hookbait it has met.
///
/// The chance of an ordinary fish is scaled by boldness, lessons and how tempting the bait is:
/// p = 1 − (1 − p₀)^(all factors), which is p₀ for an ordinary fish and never leaves 0 to 1. Size moves
/// the log-odds by the book's `size_wariness` for each doubling of mass over 1 kg.
#[must_use]
pub fn take_chance(
    mass_kg: f64,
    keenness: f64,
    experience: Experience,
    params: &FishParams,
) -> f64 {
    let exponent = keenness * experience.willingness(params);
    let p = 1.0 - (1.0 - params.take_share).powf(exponent);
    if params.size_wariness == 0.0 {
        return p;
    }
    let odds = p / (1.0 - p) * (-params.size_wariness * mass_kg.log2()).exp();
    odds / (1.0 + odds)
}
