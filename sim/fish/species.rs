//! Length and mass of a fish.

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
        0.01 * (1000.0 * mass_kg / self.factor_g).powf(1.0 / self.exponent)
    }

    /// Mass of a fish of `length_m` [kg].
    #[must_use]
    pub fn mass_kg(&self, length_m: f64) -> f64 {
        0.001 * self.factor_g * (100.0 * length_m).powf(self.exponent)
    }
}
