//! Draws the fish that are in reach on a day.

use super::streams::{Purpose, day_stream, replicate_stream};
use crate::engine::{Dice, Time};
use crate::fish::{
    Appetite, Experience, FeedingMemory, Fish, FishParams, FishState, Leg, LengthWeight, Shoal,
    Trait, Traits,
};
use crate::scenario::Scenario;
use crate::water::Point;

/// What the fish of a day are drawn from.
pub(super) struct StockDraw<'a> {
    pub(super) scenario: &'a Scenario,
    /// The day's values of the fish's book.
    pub(super) params: &'a FishParams,
    /// The day's feeding activity, 0 to 1.
    pub(super) activity: f64,
    pub(super) seed: u64,
    pub(super) day: u32,
    /// Replicate of the noise within the day; 0 is the day's own.
    pub(super) replicate: u64,
}

/// The fish of a day.
#[derive(Default)]
pub(super) struct Stock {
    /// Traits of each shoal.
    pub(super) traits: Vec<Traits<f64>>,
    /// Centre of each shoal's home range.
    pub(super) homes: Vec<Point>,
    /// All fish, shoal after shoal.
    pub(super) fish: Vec<Fish>,
}

/// One shoal on one day.
#[derive(Clone, Copy)]
struct ShoalToday<'a> {
    index: usize,
    shoal: &'a Shoal,
    traits: Traits<f64>,
    home: Point,
    median_kg: f64,
    sd_ln: f64,
}

impl StockDraw<'_> {
    /// Draws every shoal and its fish.
    pub(super) fn draw(&self) -> Stock {
        let mut stock = Stock::default();
        for (index, shoal) in self.scenario.shoals.iter().enumerate() {
            let mut dice = day_stream(self.seed, self.day, Purpose::Stock, index as u64);
            let traits = shoal.traits.draw(self.params, &mut dice);
            let home = self.scenario.chart.clamp(Point {
                x_m: shoal.home.x_m + shoal.home_shift_m * dice.normal(),
                y_m: shoal.home.y_m + shoal.home_shift_m * dice.normal(),
            });
            let count = shoal.count.draw(&mut dice).round().max(0.0) as usize;
            let mean_kg = shoal.mass_kg.draw(&mut dice);
            let variance_ln = (1.0 + shoal.mass_cv * shoal.mass_cv).ln();
            let median_kg = mean_kg * (-0.5 * variance_ln).exp();
            let sd_ln = variance_ln.sqrt();
            let today = ShoalToday { index, shoal, traits, home, median_kg, sd_ln };
            stock.fish.extend((0..count).map(|member| self.fish(today, member)));
            stock.traits.push(traits);
            stock.homes.push(home);
        }
        stock
    }

    /// Draws one member of a shoal.
    fn fish(&self, today: ShoalToday<'_>, member: usize) -> Fish {
        let params = self.params;
        let agent = (today.index as u64) << 32 | member as u64;
        let own = |purpose| day_stream(self.seed, self.day, purpose, agent);
        let mut dice: Dice = own(Purpose::Fish);
        let mass_kg = dice.lognormal(today.median_kg, today.sd_ln);
        let mass_g = (1000.0 * mass_kg).round().clamp(1.0, 4e9) as u32;
        let mass_kg = f64::from(mass_g) * 1e-3;
        let capacity_kg = mass_kg * params.meal_share * self.activity;
        let spread = params.start_fullness_spread;
        let fullness =
            (params.start_fullness + dice.uniform_between(-spread, spread)).clamp(0.0, 1.0);
        // Streams of their own: how many numbers a gamma draw uses depends on its spread.
        let boldness = own(Purpose::Boldness).unit_mean_gamma(params.boldness_cv)
            * today.traits[Trait::Boldness];
        let responsiveness = own(Purpose::Responsiveness).unit_mean_gamma(params.habit_cv);
        let place = today.shoal.place_in_home(today.home, &mut dice);
        let place = self.scenario.chart.clamp(place);
        // The rest of the stream is the fish's behaviour, which differs between replicates.
        if self.replicate != 0 {
            dice = replicate_stream(self.seed, self.day, self.replicate, Purpose::Fish, agent);
        }
        Fish {
            shoal: today.index,
            mass_g,
            length_m: LengthWeight::CARP.length_m(mass_kg),
            boldness,
            responsiveness,
            state: FishState::Roaming,
            leg: Leg::at_rest(place, Time::ZERO),
            appetite: Appetite::new(capacity_kg, fullness),
            forage: FeedingMemory::new(params),
            experience: Experience::default(),
            avoids_hookbaits_until: Time::ZERO,
            fed_at: None,
            avoided_line: None,
            handles_until: Time::ZERO,
            search_rate_per_s: 0.0,
            searches_pile: false,
            slot: 0,
            generation: 0,
            dice,
        }
    }
}
