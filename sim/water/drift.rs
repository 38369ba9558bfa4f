//! Wind-driven drift of the surface and the flow that returns beneath it.

use super::params::WaterParams;

/// Speed of the surface drift under a wind [m/s].
///
/// - **Source** `wu-1975`.
#[must_use]
pub fn surface_drift_m_s(wind_m_s: f64, params: &WaterParams) -> f64 {
    params.surface_drift_share * wind_m_s
}

/// Flow at relative height `s` over that of the surface, 0 at the top to −1 at the bed.
///
/// u/u_s = 3 s² + 4 s + 1: steady flow in a closed basin, constant eddy viscosity, no slip at the bed,
/// no net transport.
///
/// - **Source** `closed-basin`.
/// - **Checked by** V-12 (published points, no net transport).
#[must_use]
pub fn profile(s: f64) -> f64 {
    3.0 * s * s + 4.0 * s + 1.0
}

/// Mean of [`profile`] over the layer from the bed up to `share` of the depth.
///
/// Negative below the middle: scent near the bed goes against the wind.
///
/// ```
/// assert!(sim::water::layer_flow(1.0).abs() < 1e-12);
/// assert!(sim::water::layer_flow(0.5) < -0.2);
/// ```
#[must_use]
pub fn layer_flow(share: f64) -> f64 {
    let integral = |s: f64| s * s * s + 2.0 * s * s + s;
    (integral(share - 1.0) - integral(-1.0)) / share
}
