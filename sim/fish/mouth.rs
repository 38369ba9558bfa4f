//! What a fish takes into its mouth: the gape, one suck of feed, and items that are too large.

use super::params::FishParams;

/// Length of a carp of 1 kg, [`LengthWeight::CARP`](super::species::LengthWeight::CARP) worked out once [m].
const LENGTH_AT_1_KG_M: f64 = 0.413_138_952_627_046_26;

/// Diameter of the open mouth of a fish of `length_m` [m]: proportional to its length.
///
/// - **Source** `sibbing-1988`.
#[inline]
#[must_use]
pub fn gape_m(length_m: f64, params: &FishParams) -> f64 {
    params.gape_share * length_m
}

/// Fit of an item of `diameter_m`, from 1 for a small one towards 0: s = 1/(1 + (d/(k g))⁴), g the gape.
///
/// It is the readiness to take the item, and takes 1/s as long to swallow it: by the mass of the item over that time, the best
/// one has 3^(1/4) k of the gape.
///
/// - **Source** `wanzenbock-1995`, `gill-thesis` for the best item; the form is ours.
/// - **Checked by** V-161 (one half at the stated share of the gape; rises with the size of the fish), V-196 (the best item,
///   and the time that it takes).
#[inline]
#[must_use]
pub fn size_fit(diameter_m: f64, gape_m: f64, params: &FishParams) -> f64 {
    let ratio = diameter_m / (params.item_limit_gapes * gape_m);
    let squared = ratio * ratio;
    1.0 / (1.0 + squared * squared)
}

/// Most that one suck holds, where a fish of 1 kg holds `mouthful_kg` [kg]: the volume of the mouth grows with the cube
/// of the gape.
///
/// - **Checked by** V-162 (a carp of 1 kg holds one mouthful).
#[inline]
#[must_use]
pub fn full_mouth_kg(mouthful_kg: f64, length_m: f64) -> f64 {
    let ratio = length_m / LENGTH_AT_1_KG_M;
    mouthful_kg * ratio * ratio * ratio
}

/// Food that a fish takes at once where it lies `density_kg_m2` thick over `area_m2` in front of its mouth [kg]: at least
/// one item, at most a full mouth.
///
/// - **Checked by** V-162 (both limits; a larger fish takes more).
#[inline]
#[must_use]
pub fn bite_kg(density_kg_m2: f64, area_m2: f64, item_kg: f64, full_kg: f64) -> f64 {
    (density_kg_m2 * area_m2).min(full_kg).max(item_kg)
}

/// Area of bed from which one suck draws food [m²].
#[inline]
#[must_use]
pub fn suck_area_m2(gape_m: f64, params: &FishParams) -> f64 {
    let reach_m = params.suck_reach_gapes * gape_m;
    std::f64::consts::PI * reach_m * reach_m
}

/// Area of bed that a searching fish clears at one find in scattered feed [m²].
#[inline]
#[must_use]
pub fn glance_area_m2(params: &FishParams) -> f64 {
    std::f64::consts::PI * params.glance_m * params.glance_m
}
