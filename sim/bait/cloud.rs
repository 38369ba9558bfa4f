//! Bait in the water: what falls through it and what hangs in it.

use super::params::BaitParams;
use super::recipe::Recipe;
use super::settle::{fall_time_s, settling_speed_m_s};
use crate::engine::Time;
use crate::numerics::{exp_m1, powi};
use crate::water::Fluid;

/// One handful or load on its way to the bed, sorted by how it sinks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FallingBait {
    /// Food that will reach the bed [kg].
    pub food_kg: f64,
    /// Other matter that will reach the bed [kg].
    pub inert_kg: f64,
    /// Matter too fine to sink within the session [kg].
    pub hanging_kg: f64,
    /// Mean time until the food reaches the bed, weighted by mass [s].
    pub fall_s: f64,
}

impl FallingBait {
    /// Sorts `amount_kg` of a recipe by how it sinks through `depth_m`.
    ///
    /// Of a class that takes the time t to the bed, the share 1/(1 + (t/t₀)⁴) lands, t₀ the book's `hang_s`; the rest
    /// hangs. The book's `edible_factor` k moves the food of a class that is partly food: e → k e/(1 − e + k e).
    ///
    /// Sorts `amount_kg` of a recipe by how it sinks through `depth_m`; what takes longer than `session_s` hangs.
    #[must_use]
    pub fn new(
        recipe: &Recipe,
        amount_kg: f64,
        depth_m: f64,
        fluid: &Fluid,
        params: &BaitParams,
    ) -> Self {
        let mut sorted = Self { food_kg: 0.0, inert_kg: 0.0, hanging_kg: 0.0, fall_s: 0.0 };
        let mut weighted_s_kg = 0.0;
        for class in &recipe.classes {
            let mass_kg = amount_kg * class.share;
            let speed_m_s =
                settling_speed_m_s(class.diameter_m, class.density_kg_m3, class.shape, fluid);
            let fall_s = fall_time_s(depth_m, speed_m_s);
            let down_kg = mass_kg / (1.0 + powi(fall_s / params.hang_s, 4));
            sorted.hanging_kg += mass_kg - down_kg;
            let odds = params.edible_factor * class.edible_share;
            let edible_share = odds / (1.0 - class.edible_share + odds);
            let food_kg = down_kg * edible_share;
            sorted.food_kg += food_kg;
            sorted.inert_kg += down_kg - food_kg;
            if down_kg > 0.0 {
                weighted_s_kg += fall_s * food_kg;
            }
        }
        if sorted.food_kg > 0.0 {
            sorted.fall_s = weighted_s_kg / sorted.food_kg;
        }
        sorted
    }
}

/// Fines that hang over a line and slowly thin out.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Cloud {
    /// Hanging mass [kg].
    pub hanging_kg: f64,
    as_of: Time,
}

impl Cloud {
    /// Thins out up to `now`; returns the mass lost [kg]: m(t) = m₀ exp(−λt).
    pub fn thin_until(&mut self, now: Time, loss_per_s: f64) -> f64 {
        let elapsed_s = now.seconds_since(self.as_of);
        self.as_of = now;
        if self.hanging_kg <= 0.0 || elapsed_s <= 0.0 {
            return 0.0;
        }
        let lost_kg = -self.hanging_kg * exp_m1(-loss_per_s * elapsed_s);
        self.hanging_kg -= lost_kg;
        lost_kg
    }
}
