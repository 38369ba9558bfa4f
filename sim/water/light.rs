//! Light above the water from the height of the sun and cloud, and light at a depth from the water's clarity.

use super::params::WaterParams;
use crate::numerics::{exp, log10, powf};

/// Illuminance at which [`brightness`] is 0 \[lx\]: a moonless night under cloud.
const DARK_LX: f64 = 1e-3;

/// Illuminance at which [`brightness`] is 1 \[lx\]: full summer sun.
const BRIGHT_LX: f64 = 1e5;

/// Lowest elevation of the sun, and c₀ to c₃ of log₁₀ E = Σ cᵢ (h/90°)ⁱ from there up to the next.
const SUNLIGHT: [(f64, [f64; 4]); 6] = [
    (20.0, [3.74, 3.97, -4.07, 1.47]),
    (5.0, [3.05, 13.28, -45.98, 64.33]),
    (-0.8, [2.88, 22.26, -207.64, 1034.30]),
    (-5.0, [2.88, 21.81, -258.11, -858.36]),
    (-12.0, [2.70, 12.17, -431.69, -1899.83]),
    (-18.0, [13.84, 262.72, 1447.42, 2797.93]),
];

/// Slope of the last piece of [`SUNLIGHT`] at its lower end [1/°].
const NIGHTFALL_PER_DEG: f64 = 0.217;

/// Light of the sun on level ground under a clear sky, by day and twilight \[lx\].
///
/// log₁₀ E = c₀ + c₁x + c₂x² + c₃x³, x = h/90°, in six pieces down to h = −18°; below that it goes on falling as at
/// −18°, where it is less than the light of the stars.
///
/// - **Holds for** a clear sky at sea level; the fit is within 0.02 in log₁₀ E (5 %) of its own source, and the pieces
///   meet within 1 %.
/// - **Source** `urban-seidelmann-2013` (natural illumination).
/// - **Checked by** V-206 (twilight values of a glossary, one curve without gaps).
#[must_use]
pub fn sunlight_lx(elevation_deg: f64) -> f64 {
    let piece = SUNLIGHT.iter().find(|(from_deg, _)| elevation_deg >= *from_deg);
    let (from_deg, [c0, c1, c2, c3]) = *piece.unwrap_or(&SUNLIGHT[SUNLIGHT.len() - 1]);
    let x = elevation_deg.max(from_deg) / 90.0;
    let below_deg = (from_deg - elevation_deg).max(0.0);
    powf(10.0, c0 + x * (c1 + x * (c2 + x * c3)) - NIGHTFALL_PER_DEG * below_deg)
}

/// Share of the light that cloud lets through, for a share of the sky that it covers (0 to 1).
///
/// 1 − a Nᵇ, a = 0.75, b = 3.4.
///
/// - **Holds for** hourly means of sun and sky together by day; used for twilight and night as well.
/// - **Source** `kasten-czeplak-1980`.
/// - **Checked by** V-207 (its ends, and values by eighths of the sky).
#[must_use]
pub fn cloud_transmission(cloud_share: f64, params: &WaterParams) -> f64 {
    1.0 - params.overcast_loss_share * powf(cloud_share.clamp(0.0, 1.0), params.overcast_exponent)
}

/// Light on the water, with the sun at an elevation and a share of the sky covered by cloud \[lx\].
///
/// Sun and sky, and the light of a moonless night sky; the moon is left out.
///
/// - **Source** `urban-seidelmann-2013` (sun, sky and stars), `kasten-czeplak-1980` (cloud).
/// - **Checked by** V-206 (twilight values of a glossary), V-207 (cloud).
#[must_use]
pub fn illuminance_lx(elevation_deg: f64, cloud_share: f64, params: &WaterParams) -> f64 {
    (sunlight_lx(elevation_deg) + params.night_sky_lx) * cloud_transmission(cloud_share, params)
}

/// How clear the water is, in an angler's words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Clarity {
    /// The bottom can be seen in the margins.
    Clear,
    /// Green or brown with life or peat.
    Coloured,
    /// Stirred up by fish, rain or wind.
    Muddy,
}

impl Clarity {
    /// All degrees of clarity, from clear to muddy.
    pub const ALL: [Self; 3] = [Self::Clear, Self::Coloured, Self::Muddy];

    /// The word of a scenario for this clarity.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Clear => "clear",
            Self::Coloured => "coloured",
            Self::Muddy => "muddy",
        }
    }

    /// Clarity of a word. `None` if there is no such word.
    ///
    /// ```
    /// use sim::water::Clarity;
    /// assert_eq!(Clarity::from_word("coloured"), Some(Clarity::Coloured));
    /// assert_eq!(Clarity::from_word("gin-clear"), None);
    /// ```
    #[must_use]
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|clarity| clarity.word() == word)
    }

    /// Secchi depth: the depth at which a white disc is lost to sight [m].
    ///
    /// - **Checked by** V-208 (clear water is clearer than coloured, coloured than muddy, all over the book's ranges).
    #[must_use]
    pub fn secchi_m(self, params: &WaterParams) -> f64 {
        match self {
            Self::Clear => params.secchi_clear_m,
            Self::Coloured => params.secchi_coloured_m,
            Self::Muddy => params.secchi_muddy_m,
        }
    }
}

/// Attenuation of light in water of a Secchi depth [1/m].
///
/// K = c / Z, c = 1.7.
///
/// - **Holds for** c from 1.05 in stirred-up water to 2.76 in peat-stained water.
/// - **Source** `poole-atkins-1929`, range `koenings-edmundson-1991`.
/// - **Checked by** V-208 (light at the Secchi depth of eleven lakes).
#[must_use]
pub fn attenuation_per_m(secchi_m: f64, params: &WaterParams) -> f64 {
    params.secchi_attenuation / secchi_m
}

/// Light at a depth under a light on the water \[lx\].
///
/// E (1 − r) e^(−Kz): what the surface does not reflect, by the law of Beer and Lambert.
///
/// - **Holds for** open water; shade of trees, lilies and cover is left out.
/// - **Source** `poole-atkins-1929` (K), `kirk-1994` (reflection).
/// - **Checked by** V-208 (light at the Secchi depth of eleven lakes).
#[must_use]
pub fn light_at_depth_lx(
    surface_lx: f64,
    depth_m: f64,
    secchi_m: f64,
    params: &WaterParams,
) -> f64 {
    let entering_lx = surface_lx * (1.0 - params.surface_reflected_share);
    entering_lx * exp(-attenuation_per_m(secchi_m, params) * depth_m)
}

/// Brightness of a light on a scale from 0 (dark) to 1 (full sun), for behaviour that follows light.
///
/// log₁₀(E / 0.001 lx) / 8, not below 0 or above 1: each eighth is a tenfold of light. Starlight is near 0, the end
/// of nautical twilight 0.1, of civil twilight 0.4, sunset 0.7, a dull winter noon 0.8, full summer sun 1.
///
/// - **Source** a definition.
/// - **Checked by** V-209 (its marks).
///
/// ```
/// assert!((sim::water::brightness(10.0) - 0.5).abs() < 1e-12);
/// ```
#[must_use]
pub fn brightness(illuminance_lx: f64) -> f64 {
    let decades = log10(BRIGHT_LX / DARK_LX);
    // The smallest positive number keeps the logarithm of no light at all finite.
    (log10(illuminance_lx.max(f64::MIN_POSITIVE) / DARK_LX) / decades).clamp(0.0, 1.0)
}
