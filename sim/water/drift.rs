//! Wind-driven drift at the surface, the return flow below it, and the current that is left without wind.

use super::params::WaterParams;
use crate::numerics::hypot;

/// Speed of the surface drift at a wind speed [m/s].
///
/// - **Source** `wu-1975`.
#[must_use]
pub fn surface_drift_m_s(wind_m_s: f64, params: &WaterParams) -> f64 {
    params.surface_drift_share * wind_m_s
}

/// Flow at a relative height `s`, as a multiple of the surface drift; `s` is 0 at the surface and −1 at the bed.
///
/// u/u_s = 3 s² + 4 s + 1: steady flow in a closed basin with constant eddy viscosity, no slip at the bed and no net
/// transport.
///
/// - **Source** `closed-basin`.
/// - **Checked by** V-12 (published points, no net transport).
#[must_use]
pub fn return_flow_profile(s: f64) -> f64 {
    3.0 * s * s + 4.0 * s + 1.0
}

/// Flow of the layer from the bed up to a share of the depth along the wind [m/s]: that of the wind and that of a calm, which
/// comes from uneven warming and cooling, are independent, so their squares add up. Negative against the wind.
///
/// - **Source** `closed-basin`, `doda-2022`.
/// - **Checked by** V-172.
#[must_use]
pub fn layer_flow_m_s(wind_m_s: f64, share: f64, params: &WaterParams) -> f64 {
    let by_wind_m_s = surface_drift_m_s(wind_m_s, params) * mean_layer_flow(share);
    -hypot(by_wind_m_s, params.calm_current_m_s)
}

/// Mean of [`return_flow_profile`] over the layer from the bed up to a share of the depth.
///
/// It is negative in the lower half: scent near the bed drifts against the wind.
///
/// ```
/// assert!(sim::water::mean_layer_flow(1.0).abs() < 1e-12);
/// assert!(sim::water::mean_layer_flow(0.5) < -0.2);
/// ```
#[must_use]
pub fn mean_layer_flow(share: f64) -> f64 {
    let integral = |s: f64| s * s * s + 2.0 * s * s + s;
    (integral(share - 1.0) - integral(-1.0)) / share
}
