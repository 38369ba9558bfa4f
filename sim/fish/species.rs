//! Species: length and mass, size of the mouth, appetite in the cold.

use crate::numerics::powf;

/// Length–weight relation of a species: W = a Lᵇ with W in grams and total length L in centimetres.
///
/// - **Source** `bister-2000` for the default (standard weight of common carp, a plump fish).
/// - **Checked by** V-20 (published standard weights), V-21 (the relation of a wild population).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LengthWeight {
    /// Factor a [g/cmᵇ].
    pub factor_g: f64,
    /// Exponent b.
    pub exponent: f64,
}

impl LengthWeight {
    /// Standard weight of common carp: log₁₀ W = −4.639 + 2.920 log₁₀ L, W in grams, L in millimetres.
    pub const CARP: Self = Self { factor_g: 0.019_098_5, exponent: 2.920 };

    /// Total length of a fish of `mass_kg` [m].
    #[must_use]
    pub fn length_m(&self, mass_kg: f64) -> f64 {
        0.01 * powf(1000.0 * mass_kg / self.factor_g, 1.0 / self.exponent)
    }

    /// Mass of a fish of `length_m` [kg].
    #[must_use]
    pub fn mass_kg(&self, length_m: f64) -> f64 {
        0.001 * self.factor_g * powf(100.0 * length_m, self.exponent)
    }
}

/// How a species differs from common carp. A scenario may state the gape and the cold shift of a shoal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Species {
    /// Length and mass.
    pub length_weight: LengthWeight,
    /// Diameter of the open mouth over the length of the fish.
    pub gape: Gape,
    /// How much colder than for carp the water is in which cold halves its appetite [°C].
    pub cold_shift_c: f64,
}

/// Diameter of the open mouth over the length of the fish.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Gape {
    /// As a multiple of the share in the fish parameters, which is that of carp.
    OfCarp(f64),
    /// A share of the length.
    OfLength(f64),
}

impl Species {
    /// Common carp, for which the fish parameters are written.
    pub const COMMON_CARP: Self =
        Self { length_weight: LengthWeight::CARP, gape: Gape::OfCarp(1.0), cold_shift_c: 0.0 };

    /// Hybrid of carp and crucian carp: the build of carp, a smaller mouth, and it feeds in colder water.
    ///
    /// - **Source** common practice, no source.
    pub const CARP_CRUCIAN_HYBRID: Self =
        Self { length_weight: LengthWeight::CARP, gape: Gape::OfCarp(0.9), cold_shift_c: 3.0 };

    /// Bream: W = 0.007142 L^3.1093.
    ///
    /// - **Source** `brofeldt-1917` for length and mass (34 fish, fitted by us); the rest is common practice, no source.
    /// - **Checked by** V-34.
    pub const BREAM: Self = Self {
        length_weight: LengthWeight { factor_g: 0.007_142, exponent: 3.1093 },
        gape: Gape::OfCarp(0.85),
        cold_shift_c: 1.0,
    };

    /// Roach: W = 0.006570 L^3.1082.
    ///
    /// - **Source** `brofeldt-1917` for length and mass (19 fish, fitted by us); the rest is common practice, no source.
    pub const ROACH: Self = Self {
        length_weight: LengthWeight { factor_g: 0.006_570, exponent: 3.1082 },
        gape: Gape::OfCarp(0.8),
        cold_shift_c: 4.0,
    };
}
