//! What reaches a fish: smell, sound and the sight of others, each as a plain number.

use super::params::FishParams;

/// Mass whose splash the distances in the book are stated for [kg].
const REFERENCE_SPLASH_KG: f64 = 0.06;

/// Chance that one look notices a concentration: p = Cⁿ/(Cⁿ + C₅₀ⁿ).
#[inline]
#[must_use]
pub fn smelt(concentration_mol_m3: f64, params: &FishParams) -> f64 {
    // A thousandth of C₅₀ is noticed at less than one look in a thousand: not worth a power.
    if concentration_mol_m3 <= 1e-3 * params.odour_half_mol_m3 {
        return 0.0;
    }
    let ratio = params.odour_half_mol_m3 / concentration_mol_m3;
    1.0 / (1.0 + ratio.powf(params.odour_exponent))
}

/// A sound in the water, and how far it carries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sound {
    hearing_m: f64,
    startle_m: f64,
    startle_share: f64,
}

impl Sound {
    /// The sound of `splash_kg` hitting water of `depth_m`, or of a fight as loud as that.
    ///
    /// Distances grow with the mass by the book's exponent; startling fades with depth as exp(−h/h₀).
    #[must_use]
    pub fn of(splash_kg: f64, depth_m: f64, params: &FishParams) -> Self {
        let louder = (splash_kg / REFERENCE_SPLASH_KG).powf(params.loudness_exponent);
        Self {
            hearing_m: params.hearing_m * louder,
            startle_m: params.startle_radius_m * louder,
            startle_share: (-depth_m / params.startle_depth_m).exp(),
        }
    }

    /// Distance beyond which it reaches nobody: three half-distances, where 2⁻⁹ is left [m].
    #[must_use]
    pub fn reach_m(&self) -> f64 {
        3.0 * self.hearing_m.max(self.startle_m)
    }

    /// Share of attentive fish that notice it at a distance: 2^−(d/d½)².
    #[inline]
    #[must_use]
    pub fn heard(&self, distance_m: f64) -> f64 {
        let far = distance_m / self.hearing_m;
        (-far * far).exp2()
    }

    /// Share of startling left at a distance: 2^−(d/d½)² · exp(−h/h₀), none where the first is below a thousandth.
    #[inline]
    #[must_use]
    pub fn startles(&self, distance_m: f64) -> f64 {
        let far = distance_m / self.startle_m;
        let halvings = far * far;
        if halvings > 10.0 { 0.0 } else { (-halvings).exp2() * self.startle_share }
    }
}

/// Chance that one look draws a fish to others that feed within sight: p = p₀ A/(A + A½), A the mouthfuls
/// lately taken there.
///
/// - **Source** `pitcher-1982` (food is found faster in company), the form ours.
#[inline]
#[must_use]
pub fn company(mouthfuls_seen: f64, params: &FishParams) -> f64 {
    params.company_share * mouthfuls_seen / (mouthfuls_seen + params.company_half_mouthfuls)
}
