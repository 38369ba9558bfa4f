//! Stimuli: smell, sound and the sight of other fish, each as a plain number.

use super::params::FishParams;
use crate::numerics::{exp, exp2, powf};

/// Mass of the splash for which the book states its distances [kg].
const REFERENCE_SPLASH_KG: f64 = 0.06;

/// Chance that a fish notices a concentration in one look: p = Cⁿ/(Cⁿ + C₅₀ⁿ).
#[inline]
#[must_use]
pub fn smell_chance(concentration_mol_m3: f64, params: &FishParams) -> f64 {
    // At a thousandth of C₅₀ the chance is below one in a thousand: not worth a power function.
    if concentration_mol_m3 <= 1e-3 * params.odour_half_mol_m3 {
        return 0.0;
    }
    let ratio = params.odour_half_mol_m3 / concentration_mol_m3;
    1.0 / (1.0 + powf(ratio, params.odour_exponent))
}

/// A sound in the water, with the distances over which it acts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sound {
    hearing_m: f64,
    startle_m: f64,
    startles: f64,
}

impl Sound {
    /// The sound of `splash_kg` hitting water of `depth_m`, or of a fight that is as loud.
    ///
    /// Distances grow with the mass by the exponent in the book, and so does the share that is startled close by, which
    /// falls with depth as exp(−h/h₀).
    #[must_use]
    pub fn new(splash_kg: f64, depth_m: f64, params: &FishParams) -> Self {
        let louder = powf(splash_kg / REFERENCE_SPLASH_KG, params.loudness_exponent);
        Self {
            hearing_m: params.hearing_m * louder,
            startle_m: params.startle_radius_m * louder,
            startles: (louder * exp(-depth_m / params.startle_depth_m)).min(1.0),
        }
    }

    /// Distance beyond which it reaches no fish: three half-distances, where 2⁻⁹ remains [m].
    #[must_use]
    pub fn reach_m(&self) -> f64 {
        3.0 * self.hearing_m.max(self.startle_m)
    }

    /// Share of responsive fish that notice it at a distance: 2^−(d/d½)².
    #[inline]
    #[must_use]
    pub fn heard_share(&self, distance_m: f64) -> f64 {
        let relative = distance_m / self.hearing_m;
        exp2(-relative * relative)
    }

    /// Closeness to it, from 1 next to it towards 0, as far as fright goes: 2^−(d/d½)².
    #[inline]
    #[must_use]
    pub fn nearness(&self, distance_m: f64) -> f64 {
        let relative = distance_m / self.startle_m;
        exp2(-relative * relative)
    }

    /// Share of startling that remains at a distance: 2^−(d/d½)² · min(1, l exp(−h/h₀)), l how loud it is against a splash of 60 g;
    /// zero if the first factor is below 2⁻¹⁰.
    #[inline]
    #[must_use]
    pub fn startle_share(&self, distance_m: f64) -> f64 {
        let relative = distance_m / self.startle_m;
        let halvings = relative * relative;
        if halvings > 10.0 { 0.0 } else { exp2(-halvings) * self.startles }
    }
}

/// Chance that a fish joins others that it sees feeding, in one look: p = p₀ A/(A + A½), with A the mouthfuls they took
/// lately.
///
/// - **Source** `pitcher-1982` (food is found faster in company); the form is assumed.
#[inline]
#[must_use]
pub fn company_chance(mouthfuls_seen: f64, params: &FishParams) -> f64 {
    params.company_share * mouthfuls_seen / (mouthfuls_seen + params.company_half_mouthfuls)
}
