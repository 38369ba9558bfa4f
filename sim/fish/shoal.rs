//! A shoal: number and size of its fish, home range and traits.

use super::traits::TraitPriors;
use crate::engine::Dice;
use crate::params::DailyDistribution;
use crate::water::Point;

/// A shoal as the scenario describes it.
#[derive(Clone, Debug, PartialEq)]
pub struct Shoal {
    /// Name in the scenario.
    pub name: String,
    /// Number of fish in reach of the peg.
    pub count: DailyDistribution,
    /// Mean mass of its fish on a day [kg].
    pub mass_kg: DailyDistribution,
    /// Coefficient of variation of mass between its fish.
    pub mass_cv: f64,
    /// Centre of its home range.
    pub home: Point,
    /// Half the extent of its home range along the bank [m].
    pub home_half_length_m: f64,
    /// Half the extent of its home range away from the bank [m].
    pub home_half_width_m: f64,
    /// Standard deviation of the shift of its home range on a day, in each direction [m].
    pub home_shift_m: f64,
    /// Its traits.
    pub traits: TraitPriors,
}

impl Shoal {
    /// Draws a place in its elliptical home range around `centre`, uniform over the area.
    pub fn place_in_home(&self, centre: Point, dice: &mut Dice) -> Point {
        loop {
            let (u, v) = (dice.uniform_between(-1.0, 1.0), dice.uniform_between(-1.0, 1.0));
            if u * u + v * v <= 1.0 {
                return Point {
                    x_m: centre.x_m + self.home_half_length_m * u,
                    y_m: centre.y_m + self.home_half_width_m * v,
                };
            }
        }
    }
}
