//! Food on the bed: patches that fish eat and that are slowly lost.

use super::recipe::Feed;
use crate::engine::Time;
use crate::numerics::exp_m1;

/// A patch of food on the bed.
#[derive(Clone, Debug, PartialEq)]
pub struct Patch {
    /// Food in it [kg].
    pub food_kg: f64,
    /// Area it covers [m²].
    pub area_m2: f64,
    /// What the food of the patch is made of.
    pub feed: Feed,
    /// How thick the food lay when it was last added to [kg/m²].
    pub laid_kg_m2: f64,
    as_of: Time,
}

impl Patch {
    /// Creates an empty patch.
    #[must_use]
    pub fn new(area_m2: f64) -> Self {
        let feed = Feed { mouthful_kg: 1.0, item_kg: 1.0, diameter_m: 0.0 };
        Self { food_kg: 0.0, area_m2, feed, laid_kg_m2: 0.0, as_of: Time::ZERO }
    }

    /// How thick its food lies [kg/m²].
    #[inline]
    #[must_use]
    pub fn density_kg_m2(&self) -> f64 {
        self.food_kg / self.area_m2
    }

    /// Items in it.
    #[inline]
    #[must_use]
    pub fn items(&self) -> f64 {
        self.food_kg / self.feed.item_kg
    }

    /// Number of mouthfuls in it.
    #[inline]
    #[must_use]
    pub fn mouthfuls(&self) -> f64 {
        self.food_kg / self.feed.mouthful_kg
    }

    /// Adds food; the patch's own items and mouthfuls become the mean of both.
    pub fn add(&mut self, food_kg: f64, feed: Feed) {
        if food_kg <= 0.0 {
            return;
        }
        self.feed = self.feed.mixed(self.food_kg, feed, food_kg);
        self.food_kg += food_kg;
        self.laid_kg_m2 = self.density_kg_m2();
    }

    /// Spreads the patch for food that is about to be added over an area: the mean of both areas, by food.
    pub fn spread_over(&mut self, area_m2: f64, food_kg: f64) {
        let total_kg = self.food_kg + food_kg;
        if food_kg > 0.0 && total_kg > 0.0 {
            self.area_m2 = (self.food_kg * self.area_m2 + food_kg * area_m2) / total_kg;
        }
    }

    /// Takes an amount, or what is left of it; a last part of less than one item goes with it [kg].
    pub fn take(&mut self, amount_kg: f64) -> f64 {
        let rest_kg = self.food_kg - amount_kg;
        let taken_kg = if rest_kg < self.feed.item_kg.min(1e-6) { self.food_kg } else { amount_kg };
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
        let lost_kg = -self.food_kg * exp_m1(-loss_per_s * elapsed_s);
        self.food_kg -= lost_kg;
        lost_kg
    }
}
