//! How fast a grain sinks, and when it reaches the bed.

use super::recipe::ParticleShape;
use crate::numerics::cube;
use crate::water::Fluid;

/// Gravity [m/s²].
const GRAVITY_M_S2: f64 = 9.81;

/// Settling speed of a grain of `diameter_m` and `density_kg_m3` in still water [m/s].
///
/// Downward is positive; a grain lighter than water rises, with a negative speed.
///
/// w = R g D² / (C₁ ν + √(0.75 C₂ R g D³)),  R = ρₚ/ρ − 1, with C₁ = 18 and C₂ = 0.4 for a smooth
/// sphere, 1.0 for a natural grain.
///
/// - **Holds for** single grains in still water; not for flocs or clouds of grains. With C₂ = 0.4 it is up to 25 % too
///   fast for spheres near a Reynolds number of 100.
/// - **Source** `ferguson-church-2004`.
/// - **Checked by** V-13 (Stokes' law for small grains), V-14 (published form, tabulated), V-15 (a drag
///   curve for spheres).
///
/// ```
/// use sim::{bait::{settling_speed_m_s, ParticleShape}, water::fluid_at};
/// let pellet = settling_speed_m_s(0.004, 1150.0, ParticleShape::Sphere, &fluid_at(15.0));
/// assert!((0.10..0.14).contains(&pellet));
/// ```
#[must_use]
pub fn settling_speed_m_s(
    diameter_m: f64,
    density_kg_m3: f64,
    shape: ParticleShape,
    fluid: &Fluid,
) -> f64 {
    let drag = match shape {
        ParticleShape::Sphere => 0.4,
        ParticleShape::Grain => 1.0,
    };
    let pull = (density_kg_m3 / fluid.density_kg_m3 - 1.0) * GRAVITY_M_S2;
    let speed = pull.abs() * diameter_m * diameter_m
        / (18.0 * fluid.kinematic_m2_s() + (0.75 * drag * pull.abs() * cube(diameter_m)).sqrt());
    speed.copysign(pull)
}

/// Time to sink `depth_m` at `speed_m_s` [s]; infinite if the speed is not positive.
#[must_use]
pub fn fall_time_s(depth_m: f64, speed_m_s: f64) -> f64 {
    if speed_m_s > 0.0 { depth_m / speed_m_s } else { f64::INFINITY }
}
