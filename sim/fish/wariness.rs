//! Wariness: whether a fish takes a hookbait that it has met, by boldness, experience and size.

use super::params::FishParams;
use crate::numerics::{exp, ln, log2, powf};

/// Captures that a fish has suffered or seen on the day.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Experience {
    /// How often it was hooked itself.
    pub hooked: u32,
    /// How often it was near when another fish was hooked.
    pub seen: u32,
}

impl Experience {
    /// Willingness to take, 1 without experience: m = m∞ + (1 − m∞) exp(−k₁ n_own − k₂ n_seen).
    #[must_use]
    pub fn willingness(&self, params: &FishParams) -> f64 {
        let learned = params.own_capture_lesson * f64::from(self.hooked)
            + params.seen_capture_lesson * f64::from(self.seen);
        params.wary_floor + (1.0 - params.wary_floor) * exp(-learned)
    }
}

/// Chance that a fish takes the hookbait that it has met.
///
/// The chance of an ordinary fish is scaled by `readiness` (boldness times how tempting the bait is) and by experience:
/// p = 1 − (1 − p₀)^(product of the factors), which is p₀ for an ordinary fish and always between 0 and 1. Size shifts
/// the log-odds by `size_wariness` of the book for each doubling of mass above 1 kg.
#[must_use]
pub fn take_chance(
    mass_kg: f64,
    readiness: f64,
    experience: Experience,
    params: &FishParams,
) -> f64 {
    let exponent = readiness * experience.willingness(params);
    let refuses = powf(1.0 - params.take_share, exponent);
    if params.size_wariness == 0.0 {
        return 1.0 - refuses;
    }
    // The odds of refusing stay finite for the boldest fish; the odds of taking do not.
    let size_factor = exp(params.size_wariness * log2(mass_kg));
    (1.0 - refuses) / (1.0 - refuses + refuses * size_factor)
}

/// Factor on the readiness to take a hookbait on a line `diameter` times as thick as an ordinary one, of which a fish sees
/// the share `seen`, and on a hook `gape` times as large as a middling one: d^(−k·s) · h^(−l).
///
/// - **Source** `bjordal-lokkeborg-1996` and `rapp-2008` for the directions; the form is ours.
/// - **Checked by** V-341 (1 for ordinary tackle or an unseen line; falls with either).
#[must_use]
pub fn boldness_towards_tackle(diameter: f64, seen: f64, gape: f64, params: &FishParams) -> f64 {
    exp(-params.line_shyness * seen * ln(diameter) - params.hook_shyness * ln(gape))
}
