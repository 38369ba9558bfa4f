//! A shoal: how many, how large, where they live and what they are like.

use super::params::FishParams;
use crate::engine::Dice;
use crate::params::Spread;
use crate::water::Point;

/// What a shoal is like on one day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Traits {
    /// Share of hungry fish within hearing that come to a feeder's splash.
    pub comes_to_splash: f64,
    /// Share of fish close by that a feeder's splash startles.
    pub startles_at_splash: f64,
    /// Share of hungry fish within hearing that come to loose feed.
    pub comes_to_patter: f64,
    /// Share of fish close by that loose feed startles.
    pub startles_at_patter: f64,
    /// Share of fish close by that flee when one is hooked.
    pub startles_at_fight: f64,
    /// Readiness to come up for falling feed.
    pub rises: f64,
    /// How readily its fish take a hookbait beside ordinary ones.
    pub boldness: f64,
}

/// A shoal's traits as its scenario states them; what is left out comes from the book.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct TraitSpreads {
    /// As [`Traits::comes_to_splash`].
    pub comes_to_splash: Option<Spread>,
    /// As [`Traits::startles_at_splash`].
    pub startles_at_splash: Option<Spread>,
    /// As [`Traits::comes_to_patter`].
    pub comes_to_patter: Option<Spread>,
    /// As [`Traits::startles_at_patter`].
    pub startles_at_patter: Option<Spread>,
    /// As [`Traits::startles_at_fight`].
    pub startles_at_fight: Option<Spread>,
    /// As [`Traits::rises`].
    pub rises: Option<Spread>,
    /// As [`Traits::boldness`]; 1 where left out.
    pub boldness: Option<Spread>,
}

impl TraitSpreads {
    /// One day's traits: the scenario's own where it states them, else the book's values of that day.
    pub fn draw(&self, params: &FishParams, dice: &mut Dice) -> Traits {
        // Stated or not, each trait takes one number, so that stating one leaves the rest of the day as it was.
        let mut of = |spread: Option<Spread>, book: f64| {
            spread.unwrap_or(Spread::Fixed(book)).draw(dice).clamp(0.0, 1.0)
        };
        Traits {
            comes_to_splash: of(self.comes_to_splash, params.comes_to_splash),
            startles_at_splash: of(self.startles_at_splash, params.startles_at_splash),
            comes_to_patter: of(self.comes_to_patter, params.comes_to_patter),
            startles_at_patter: of(self.startles_at_patter, params.startles_at_patter),
            startles_at_fight: of(self.startles_at_fight, params.startles_at_fight),
            rises: of(self.rises, params.rises),
            boldness: self.boldness.unwrap_or(Spread::Fixed(1.0)).draw(dice).max(0.0),
        }
    }
}

/// A shoal as the scenario describes it.
#[derive(Clone, Debug, PartialEq)]
pub struct Shoal {
    /// The name under which it stands in the scenario.
    pub name: String,
    /// Fish in reach of the peg.
    pub count: Spread,
    /// Mean mass of its fish on a day [kg].
    pub mass_kg: Spread,
    /// Spread of mass between its fish (standard deviation over mean).
    pub mass_cv: f64,
    /// Centre of its home range.
    pub home: Point,
    /// Half the extent of its home range along the bank [m].
    pub home_half_length_m: f64,
    /// Half the extent of its home range away from the bank [m].
    pub home_half_width_m: f64,
    /// How far the centre of the home range lies from there on a given day (standard deviation) [m].
    pub home_shift_m: f64,
    /// Its traits.
    pub traits: TraitSpreads,
}

impl Shoal {
    /// Draws a place in its elliptical home range around `centre`, uniform over the area.
    pub fn place_in_home(&self, centre: Point, dice: &mut Dice) -> Point {
        loop {
            let (u, v) = (dice.between(-1.0, 1.0), dice.between(-1.0, 1.0));
            if u * u + v * v <= 1.0 {
                return Point {
                    x_m: centre.x_m + self.home_half_length_m * u,
                    y_m: centre.y_m + self.home_half_width_m * v,
                };
            }
        }
    }
}
