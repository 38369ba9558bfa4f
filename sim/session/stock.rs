//! Draws the fish that are in reach on a day.

use super::streams::{Purpose, day_stream, replicate_stream};
use crate::engine::{Dice, Time};
use crate::fish::{
    Appetite, Experience, FeedingMemory, Fish, FishParams, FishState, Fright, HomeCourse, Shoal,
    Trait, Traits, Way, oxygen_factor,
};
use crate::numerics::{cbrt, exp, ln, sin_cos};
use crate::scenario::Scenario;
use crate::water::{Conditions, Point};

/// Largest number of fish of one shoal in reach, for distributions without an upper end.
const MAX_IN_REACH: f64 = 20_000.0;

/// What the fish of a day are drawn from.
pub(super) struct StockDraw<'a> {
    pub(super) scenario: &'a Scenario,
    /// The day's values of the fish's book.
    pub(super) params: &'a FishParams,
    /// The day's weather.
    pub(super) conditions: Conditions,
    /// By what the number of fish of each shoal is multiplied.
    pub(super) factors: &'a [f64],
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
    /// Home range of each shoal.
    pub(super) homes: Vec<HomeCourse>,
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
    /// Appetite that the temperature and oxygen of the day allow its fish, 0 to 1.
    activity: f64,
    habitual_cover_m: f64,
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
            let (shift_x_m, shift_y_m) =
                (shoal.home_shift_m * dice.normal(), shoal.home_shift_m * dice.normal());
            let shifted = |at: Point| {
                let at = Point { x_m: at.x_m + shift_x_m, y_m: at.y_m + shift_y_m };
                self.scenario.chart.clamp(at)
            };
            let home = shifted(shoal.home);
            let moves = shoal.moves.iter();
            let moves = moves.map(|step| (Time::from_seconds(step.after_s), shifted(step.to)));
            stock.homes.push(HomeCourse::new(home, moves.collect()));
            let quantile = dice.uniform();
            let mean_kg = shoal.mass_kg.draw(&mut dice);
            let number = self.factors[index] * shoal.number(quantile, mean_kg);
            let in_reach = number.round().clamp(0.0, MAX_IN_REACH) as usize;
            let passing = (in_reach as f64 * self.params.passing_share).round() as usize;
            let variance_ln = ln(1.0 + shoal.mass_cv * shoal.mass_cv);
            let median_kg = mean_kg * exp(-0.5 * variance_ln);
            let sd_ln = variance_ln.sqrt();
            let habitual_cover_m = self.habitual_cover_m(shoal, home);
            let conditions = &self.conditions;
            let activity = shoal.appetite(conditions.temperature_c, self.params)
                * oxygen_factor(conditions.oxygen_mg_l, self.params);
            let today = ShoalToday {
                index,
                shoal,
                traits,
                home,
                activity,
                habitual_cover_m,
                median_kg,
                sd_ln,
            };
            stock.fish.extend((0..in_reach).map(|member| self.fish(today, member, None)));
            // Of those that pass by, only those are drawn that come before the session ends.
            let mut dice = replicate_stream(
                self.seed,
                self.day,
                self.replicate,
                Purpose::Coming,
                index as u64,
            );
            let away_s = self.params.residence_s * self.params.passing_share;
            stock.fish.extend((in_reach..in_reach + passing).filter_map(|member| {
                let comes_s = dice.exponential(away_s);
                let comes = Time::from_seconds(comes_s);
                (comes_s < self.scenario.session_s).then(|| self.fish(today, member, Some(comes)))
            }));
            stock.traits.push(traits);
        }
        stock
    }

    /// How far from cover a shoal is used to be: the mean over its home range [m].
    fn habitual_cover_m(&self, shoal: &Shoal, home: Point) -> f64 {
        let ring = |share: f64| {
            (0..8).map(move |eighth| {
                let (sin, cos) = sin_cos(f64::from(eighth) * std::f64::consts::FRAC_PI_4);
                Point {
                    x_m: home.x_m + share * shoal.home_half_length_m * cos,
                    y_m: home.y_m + share * shoal.home_half_width_m * sin,
                }
            })
        };
        let chart = &self.scenario.chart;
        let places = ring(0.5).chain(ring(0.87)).map(|place| chart.clamp(place));
        places.map(|place| chart.cover_distance_m(place)).sum::<f64>() / 16.0
    }

    /// Draws one member of a shoal, which is in reach from the start or comes later.
    fn fish(&self, today: ShoalToday<'_>, member: usize, comes: Option<Time>) -> Fish {
        let params = self.params;
        let agent = (today.index as u64) << 32 | member as u64;
        let own = |purpose| day_stream(self.seed, self.day, purpose, agent);
        let mut dice: Dice = own(Purpose::Fish);
        let mass_kg = dice.lognormal(today.median_kg, today.sd_ln);
        let mass_g = (1000.0 * mass_kg).round().clamp(1.0, 4e9) as u32;
        let mass_kg = f64::from(mass_g) * 1e-3;
        let capacity_kg = mass_kg * params.meal_share * today.activity;
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
        let length_m = today.shoal.species.length_weight.length_m(mass_kg);
        Fish {
            shoal: today.index,
            mass_g,
            cube_root_kg: cbrt(mass_kg),
            length_m,
            boldness,
            responsiveness,
            state: if comes.is_some() { FishState::Away } else { FishState::Roaming },
            comes: comes.unwrap_or(Time::ZERO),
            way: Way::at_rest(place, Time::ZERO),
            look: None,
            stays_s: f64::INFINITY,
            appetite: Appetite::new(capacity_kg, fullness),
            forage: FeedingMemory::new(params),
            experience: Experience::default(),
            fright: Fright::none(),
            gape_m: today.shoal.gape_m(length_m, params),
            habitual_cover_m: today.habitual_cover_m,
            avoids_hookbaits_until: Time::ZERO,
            fed_at: None,
            avoided_line: None,
            handles_until: Time::ZERO,
            search_rate_per_s: 0.0,
            on_pile: false,
            slot: 0,
            generation: 0,
            dice,
        }
    }
}
