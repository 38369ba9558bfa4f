//! A shoal: number and size of its fish, home range and traits.

use super::params::FishParams;
use crate::engine::Dice;
use crate::params::DailyDistribution;
use crate::water::Point;

/// Traits of a shoal on one day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Traits {
    /// Share of hungry fish within hearing that come to a feeder's splash.
    pub comes_to_splash: f64,
    /// Share of fish nearby that a feeder's splash startles.
    pub startles_at_splash: f64,
    /// Share of hungry fish within hearing that come to loose feed.
    pub comes_to_patter: f64,
    /// Share of fish nearby that loose feed startles.
    pub startles_at_patter: f64,
    /// Share of fish nearby that flee when one is hooked.
    pub startles_at_fight: f64,
    /// Readiness to rise for falling feed.
    pub rises: f64,
    /// How readily its fish take a hookbait, compared with ordinary fish.
    pub boldness: f64,
}

/// Distributions of a shoal's traits, as stated in the scenario; `None` leaves a trait to the book.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct TraitPriors {
    /// As [`Traits::comes_to_splash`].
    pub comes_to_splash: Option<DailyDistribution>,
    /// As [`Traits::startles_at_splash`].
    pub startles_at_splash: Option<DailyDistribution>,
    /// As [`Traits::comes_to_patter`].
    pub comes_to_patter: Option<DailyDistribution>,
    /// As [`Traits::startles_at_patter`].
    pub startles_at_patter: Option<DailyDistribution>,
    /// As [`Traits::startles_at_fight`].
    pub startles_at_fight: Option<DailyDistribution>,
    /// As [`Traits::rises`].
    pub rises: Option<DailyDistribution>,
    /// As [`Traits::boldness`]; `None` is 1.
    pub boldness: Option<DailyDistribution>,
}

impl TraitPriors {
    /// Draws the traits of one day: as the scenario states them, or else as the book has them on that day.
    pub fn draw(&self, params: &FishParams, dice: &mut Dice) -> Traits {
        // Each trait uses one random number, stated or not, so that stating one leaves the rest of the day unchanged.
        let mut share = |spread: Option<DailyDistribution>, book: f64| {
            spread.unwrap_or(DailyDistribution::Fixed(book)).draw(dice).clamp(0.0, 1.0)
        };
        Traits {
            comes_to_splash: share(self.comes_to_splash, params.comes_to_splash),
            startles_at_splash: share(self.startles_at_splash, params.startles_at_splash),
            comes_to_patter: share(self.comes_to_patter, params.comes_to_patter),
            startles_at_patter: share(self.startles_at_patter, params.startles_at_patter),
            startles_at_fight: share(self.startles_at_fight, params.startles_at_fight),
            rises: share(self.rises, params.rises),
            boldness: self.boldness.unwrap_or(DailyDistribution::Fixed(1.0)).draw(dice).max(0.0),
        }
    }
}

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
