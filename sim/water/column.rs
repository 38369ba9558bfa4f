//! Density and viscosity of fresh water, from its temperature.

use crate::numerics::powf;

/// Properties of water that decide how fast particles sink.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fluid {
    /// Density [kg/m³].
    pub density_kg_m3: f64,
    /// Dynamic viscosity [Pa·s].
    pub viscosity_pa_s: f64,
}

impl Fluid {
    /// Kinematic viscosity [m²/s].
    #[must_use]
    pub fn kinematic_m2_s(&self) -> f64 {
        self.viscosity_pa_s / self.density_kg_m3
    }
}

/// Properties of fresh water at `temperature_c` and one atmosphere.
///
/// ρ by Kell's polynomial; μ = 10⁻⁶ Σ aᵢ (T/300 K)^bᵢ, the correlation for 0.1 MPa that belongs to the
/// IAPWS formulation of 2008.
///
/// - **Holds for** 0 to 40 °C.
/// - **Source** `kell-1975`, `huber-2009` (equation 37).
/// - **Checked by** V-11 (IAPWS values from 0 to 30 °C).
#[must_use]
pub fn fluid_at(temperature_c: f64) -> Fluid {
    let t = temperature_c;
    let density_kg_m3 = (999.839_52
        + t * (16.945_176
            + t * (-7.987_040_1e-3
                + t * (-46.170_461e-6 + t * (105.563_02e-9 + t * -280.542_53e-12)))))
        / (1.0 + 16.879_850e-3 * t);
    let reduced = (t + 273.15) / 300.0;
    let viscosity_pa_s = 1e-6
        * (280.68 * powf(reduced, -1.9)
            + 511.45 * powf(reduced, -7.7)
            + 61.131 * powf(reduced, -19.6)
            + 0.459_03 * powf(reduced, -40.0));
    Fluid { density_kg_m3, viscosity_pa_s }
}
