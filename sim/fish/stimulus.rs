//! What reaches a fish: smell, sound and the sight of others, each as a plain number.

use super::params::FishParams;

/// Mass whose splash the distances in the book are stated for [kg].
const REFERENCE_SPLASH_KG: f64 = 0.06;

/// Chance that one look notices a concentration: p = Cⁿ/(Cⁿ + C₅₀ⁿ).
#[inline]
#[must_use]
pub fn smelt(concentration_mol_m3: f64, params: &FishParams) -> f64 {
    if concentration_mol_m3 <= 0.0 {
        return 0.0;
    }
    let ratio = params.odour_half_mol_m3 / concentration_mol_m3;
    1.0 / (1.0 + ratio.powf(params.odour_exponent))
}

/// Chance that a sound of `splash_kg` hitting the water is noticed at a distance: 2^−(d/d½)².
#[inline]
#[must_use]
pub fn heard(distance_m: f64, splash_kg: f64, params: &FishParams) -> f64 {
    let half_m = params.hearing_m * loudness(splash_kg, params);
    let far = distance_m / half_m;
    (-far * far).exp2()
}

/// Share of startling left at a distance and depth: 2^−(d/d½)² · exp(−h/h₀).
#[inline]
#[must_use]
pub fn startle_share(distance_m: f64, depth_m: f64, splash_kg: f64, params: &FishParams) -> f64 {
    let far = distance_m / (params.startle_radius_m * loudness(splash_kg, params));
    (-far * far).exp2() * (-depth_m / params.startle_depth_m).exp()
}

/// How much further a splash carries than that of the reference mass.
fn loudness(splash_kg: f64, params: &FishParams) -> f64 {
    (splash_kg / REFERENCE_SPLASH_KG).powf(params.loudness_exponent)
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
