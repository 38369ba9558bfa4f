//! Food on the bed: patches that fish eat and that are slowly lost.

use crate::engine::Time;

/// A patch of food on the bed.
#[derive(Clone, Debug, PartialEq)]
pub struct Patch {
    /// Food in it [kg].
    pub food_kg: f64,
    /// Area it covers [m²].
    pub area_m2: f64,
    /// Mass of one mouthful [kg].
    pub mouthful_kg: f64,
    as_of: Time,
}

impl Patch {
    /// Creates an empty patch.
    #[must_use]
    pub fn new(area_m2: f64, mouthful_kg: f64) -> Self {
        Self { food_kg: 0.0, area_m2, mouthful_kg, as_of: Time::ZERO }
    }

    /// Number of mouthfuls in it.
    #[inline]
    #[must_use]
    pub fn mouthfuls(&self) -> f64 {
        self.food_kg / self.mouthful_kg
    }

    /// Adds food with mouthfuls of a given mass; the patch's own mouthful becomes the mean over all mouthfuls.
    pub fn add(&mut self, food_kg: f64, mouthful_kg: f64) {
        let mouthfuls = self.mouthfuls() + food_kg / mouthful_kg;
        self.food_kg += food_kg;
        if mouthfuls > 0.0 {
            self.mouthful_kg = self.food_kg / mouthfuls;
        }
    }

    /// Removes one mouthful, or what is left, and returns its mass [kg].
    pub fn take_mouthful(&mut self) -> f64 {
        let taken_kg = self.mouthful_kg.min(self.food_kg);
        self.food_kg -= taken_kg;
        taken_kg
    }

    /// Removes everything and returns its mass [kg].
    pub fn take_all(&mut self) -> f64 {
        std::mem::take(&mut self.food_kg)
    }

    /// Loses food to silt, wash and small fish up to `now`; returns the mass lost [kg].
    ///
    /// m(t) = m₀ exp(−λ t)
    pub fn lose_until(&mut self, now: Time, loss_per_s: f64) -> f64 {
        let elapsed_s = now.seconds_since(self.as_of);
        self.as_of = now;
        if self.food_kg <= 0.0 || elapsed_s <= 0.0 {
            return 0.0;
        }
        let lost_kg = -self.food_kg * (-loss_per_s * elapsed_s).exp_m1();
        self.food_kg -= lost_kg;
        lost_kg
    }
}
