//! A shoal: number and size of its fish, home range and traits.

use super::appetite::temperature_factor_shifted;
use super::mouth::gape_m;
use super::params::FishParams;
use super::species::{Gape, Species};
use super::traits::TraitPriors;
use crate::engine::Dice;
use crate::numerics::sin_cos;
use crate::params::DailyDistribution;
use crate::water::{Chart, Point};

/// The number of fish in a shoal by their mass over an area.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StockDensity {
    /// Mass of fish over the area [kg/m²].
    pub kg_m2: DailyDistribution,
    /// The area, times the share of the stock that is of this shoal [m²].
    pub area_m2: f64,
}

/// A move of a home range to another place during a session.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HomeMove {
    /// When, from the start of the session [s].
    pub after_s: f64,
    /// Its centre from then on.
    pub to: Point,
}

/// A shoal as the scenario describes it.
#[derive(Clone, Debug, PartialEq)]
pub struct Shoal {
    /// Name in the scenario.
    pub name: String,
    /// Its species, with what the scenario states differently.
    pub species: Species,
    /// Number of fish in reach of the peg, unless `stock` says it.
    pub count: DailyDistribution,
    /// Its stock, if the scenario states that instead of the number of fish.
    pub stock: Option<StockDensity>,
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
    /// Moves of its home range, in the order of time.
    pub moves: Vec<HomeMove>,
    /// Its traits.
    pub traits: TraitPriors,
}

impl Shoal {
    /// Appetite of its fish at a temperature as a share of the maximum, 0 to 1.
    #[must_use]
    pub fn appetite(&self, temperature_c: f64, params: &FishParams) -> f64 {
        temperature_factor_shifted(temperature_c, self.species.cold_shift_c, params)
    }

    /// Number of fish in reach on a day on which a `quantile` of its distribution holds and they weigh `mean_kg`.
    #[must_use]
    pub fn number(&self, quantile: f64, mean_kg: f64) -> f64 {
        match self.stock {
            Some(stock) => stock.kg_m2.quantile(quantile) * stock.area_m2 / mean_kg,
            None => self.count.quantile(quantile),
        }
    }

    /// Mean number of fish in reach, for fish of their mean weight.
    #[must_use]
    pub fn mean_number(&self) -> f64 {
        match self.stock {
            Some(stock) => stock.kg_m2.mean() * stock.area_m2 / self.mass_kg.mean(),
            None => self.count.mean(),
        }
    }

    /// Area of its home range that is water [m²].
    ///
    /// The ellipse is cut into strips along the bank, at equal steps of the angle θ: y = b sin θ, |x| ≤ a cos θ. Without
    /// a bank in the way the sum is πab.
    #[must_use]
    pub fn home_area_m2(&self, chart: &Chart) -> f64 {
        const STRIPS: u32 = 720;
        let step = std::f64::consts::PI / f64::from(STRIPS);
        let half_m = 0.5 * chart.width_m;
        let strip_m2 = |index: u32| {
            let (sin, cos) = sin_cos((f64::from(index) + 0.5) * step - std::f64::consts::FRAC_PI_2);
            let (reach_m, y_m) =
                (self.home_half_length_m * cos, self.home.y_m + self.home_half_width_m * sin);
            let ends = [self.home.x_m - reach_m, self.home.x_m + reach_m];
            let [left_m, right_m] = ends.map(|x_m| x_m.clamp(-half_m, half_m));
            let is_water = (0.0..=chart.length_m).contains(&y_m);
            if is_water { (right_m - left_m) * self.home_half_width_m * cos * step } else { 0.0 }
        };
        (0..STRIPS).map(strip_m2).sum()
    }

    /// Diameter of the open mouth of one of its fish of `length_m` [m].
    #[must_use]
    pub fn gape_m(&self, length_m: f64, params: &FishParams) -> f64 {
        match self.species.gape {
            Gape::OfCarp(multiple) => multiple * gape_m(length_m, params),
            Gape::OfLength(share) => share * length_m,
        }
    }

    /// Draws a place in its elliptical home range around `centre`, uniform over the area.
    #[inline]
    pub fn place_in_home(&self, centre: Point, dice: &mut Dice) -> Point {
        let [u, v] = dice.in_disc();
        Point {
            x_m: centre.x_m + self.home_half_length_m * u,
            y_m: centre.y_m + self.home_half_width_m * v,
        }
    }
}
