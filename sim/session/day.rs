//! What differs between days: weather, stock, appetite, and everything nobody knows.

use crate::angler::AnglerParams;
use crate::bait::BaitParams;
use crate::engine::Dice;
use crate::engine::Time;
use crate::fish::{
    Appetite, Experience, Fish, FishParams, Forage, Leg, LengthWeight, State, Traits,
    oxygen_factor, temperature_factor,
};
use crate::scenario::Scenario;
use crate::water::{Conditions, Fluid, Point, WaterParams, fluid_at};

/// Purposes of random streams within a day, so that no two uses share one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Purpose {
    /// Weather.
    Weather = 1,
    /// Values of the books.
    Books = 2,
    /// How many fish and which.
    Stock = 3,
    /// One fish's behaviour.
    Fish = 4,
    /// Casts.
    Cast = 5,
    /// Loads opening, hookbaits going.
    Bait = 6,
    /// Times of the angler's hands.
    Hands = 7,
    /// Fights.
    Fight = 8,
    /// One fish's boldness.
    Boldness = 9,
    /// How readily one fish comes to feed.
    Habit = 10,
    /// Fish touching the line.
    Touch = 11,
    /// The angler's guesses of weight.
    Guess = 12,
    /// Bites by a given law.
    Law = 13,
    /// Strikes at line bites, and fish hooked outside the mouth.
    Foul = 14,
}

/// The stream of one purpose and agent on one day.
fn stream(seed: u64, day: u32, purpose: Purpose, agent: u64) -> Dice {
    Dice::keyed(&[seed, u64::from(day), purpose as u64, agent])
}

/// The stream of one purpose and agent on one day, fished with another luck than the day's own.
fn luck_stream(seed: u64, day: u32, luck: u64, purpose: Purpose, agent: u64) -> Dice {
    Dice::keyed(&[seed, u64::from(day), purpose as u64, agent, luck])
}

/// The number of the one day that a scenario with fixed days has.
const FIXED_DAY: u32 = 0;

/// One day, the same for every plan.
#[derive(Clone, Debug)]
pub struct Day {
    /// The seed it was drawn from.
    pub seed: u64,
    /// Its number, from 1.
    pub number: u32,
    /// Which luck it is fished with; 0 is the day's own.
    pub luck: u64,
    /// Weather.
    pub conditions: Conditions,
    /// The water's density and viscosity.
    pub fluid: Fluid,
    /// The water's book today.
    pub water: WaterParams,
    /// The bait's book today.
    pub bait: BaitParams,
    /// The fish's book today.
    pub fish: FishParams,
    /// The angler's book today.
    pub angler: AnglerParams,
    /// Traits of each shoal today.
    pub traits: Vec<Traits>,
    /// Where each shoal's home range lies today.
    pub homes: Vec<Point>,
    /// How keenly fish feed in today's warmth and oxygen, 0 to 1.
    pub keenness: f64,
    /// Fish in reach at the start.
    pub stock: Vec<Fish>,
}

impl Day {
    /// The stream of one purpose of the session itself.
    pub(super) fn stream(&self, purpose: Purpose) -> Dice {
        match self.luck {
            0 => stream(self.seed, self.number, purpose, 0),
            luck => luck_stream(self.seed, self.number, luck, purpose, 0),
        }
    }

    /// Draws day `number` of a seed.
    #[must_use]
    pub fn draw(scenario: &Scenario, seed: u64, number: u32) -> Self {
        let luck = if scenario.fixed_days { u64::from(number) } else { 0 };
        Self::draw_as(scenario, seed, number, number, luck)
    }

    /// Draws the weather and stock of day `number`, with what nobody knows as on day `unknowns`, to be fished with
    /// another `luck`; luck 0 is the day's own.
    ///
    /// The three are drawn apart, so that what each of them moves can be told apart.
    #[must_use]
    pub fn draw_as(scenario: &Scenario, seed: u64, number: u32, unknowns: u32, luck: u64) -> Self {
        let [number, unknowns] =
            if scenario.fixed_days { [FIXED_DAY; 2] } else { [number, unknowns] };
        let mut weather_dice = stream(seed, number, Purpose::Weather, 0);
        let conditions = scenario.weather.draw(&mut weather_dice);
        let books = &scenario.books;
        let mut book_dice = stream(seed, unknowns, Purpose::Books, 0);
        let water = WaterParams::from_values(&books.water.draw(&mut book_dice));
        let mut book_dice = stream(seed, unknowns, Purpose::Books, 1);
        let bait = BaitParams::from_values(&books.bait.draw(&mut book_dice));
        let mut book_dice = stream(seed, unknowns, Purpose::Books, 2);
        let mut fish = FishParams::from_values(&books.fish.draw(&mut book_dice));
        let mut book_dice = stream(seed, unknowns, Purpose::Books, 3);
        let angler = AnglerParams::from_values(&books.angler.draw(&mut book_dice));
        let keenness = temperature_factor(conditions.temperature_c, &fish)
            * oxygen_factor(conditions.oxygen_mg_l, &fish);
        fish.slowed_to(keenness);

        let mut stock = Vec::new();
        let (mut traits, mut homes) = (Vec::new(), Vec::new());
        for (shoal_number, shoal) in scenario.shoals.iter().enumerate() {
            let mut dice = stream(seed, number, Purpose::Stock, shoal_number as u64);
            traits.push(shoal.traits.draw(&fish, &mut dice));
            let home = scenario.chart.clamp(Point {
                x_m: shoal.home.x_m + shoal.home_shift_m * dice.normal(),
                y_m: shoal.home.y_m + shoal.home_shift_m * dice.normal(),
            });
            homes.push(home);
            let count = shoal.count.draw(&mut dice).round().max(0.0) as usize;
            let mean_kg = shoal.mass_kg.draw(&mut dice);
            let variance_ln = (1.0 + shoal.mass_cv * shoal.mass_cv).ln();
            let median_kg = mean_kg * (-0.5 * variance_ln).exp();
            for member in 0..count {
                let agent = (shoal_number as u64) << 32 | member as u64;
                let mut dice = stream(seed, number, Purpose::Fish, agent);
                let mass_kg = dice.lognormal(median_kg, variance_ln.sqrt());
                let mass_g = (1000.0 * mass_kg).round().clamp(1.0, 4e9) as u32;
                let mass_kg = f64::from(mass_g) * 1e-3;
                let capacity_kg = mass_kg * fish.meal_share * keenness;
                let fullness = (fish.start_fullness
                    + dice.between(-fish.start_fullness_spread, fish.start_fullness_spread))
                .clamp(0.0, 1.0);
                // A stream of its own: how many numbers a gamma takes depends on its spread.
                let mut bold_dice = stream(seed, number, Purpose::Boldness, agent);
                let boldness =
                    bold_dice.gamma_of_mean_one(fish.boldness_cv) * traits[shoal_number].boldness;
                let habit =
                    stream(seed, number, Purpose::Habit, agent).gamma_of_mean_one(fish.habit_cv);
                let at = scenario.chart.clamp(home_place(
                    shoal.home_half_length_m,
                    shoal.home_half_width_m,
                    home,
                    &mut dice,
                ));
                // From here on the stream is what the fish does, which is luck.
                if luck != 0 {
                    dice = luck_stream(seed, number, luck, Purpose::Fish, agent);
                }
                stock.push(Fish {
                    shoal: shoal_number,
                    mass_g,
                    length_m: LengthWeight::CARP.length_m(mass_kg),
                    boldness,
                    habit,
                    state: State::Roaming,
                    leg: Leg::rest(at, Time::ZERO),
                    appetite: Appetite::new(capacity_kg, fullness),
                    forage: Forage::fresh(&fish),
                    experience: Experience::default(),
                    refuses_until: Time::ZERO,
                    trusts: None,
                    gave_up: None,
                    swallows_until: Time::ZERO,
                    searching_per_s: 0.0,
                    on_pile: false,
                    slot: 0,
                    mind: 0,
                    dice,
                });
            }
        }
        Self {
            seed,
            number,
            luck,
            conditions,
            fluid: fluid_at(conditions.temperature_c),
            water,
            bait,
            fish,
            angler,
            traits,
            homes,
            keenness,
            stock,
        }
    }
}

impl Day {
    /// Today's values of everything about fish, bait and tackle that nobody knows: the rows of all books, then
    /// each shoal's traits. The same things in the same order every day; some never differ.
    #[must_use]
    pub fn unknowns(&self, scenario: &Scenario) -> Vec<f64> {
        let mut values =
            [self.water.values(), self.bait.values(), self.fish.values(), self.angler.values()]
                .concat();
        for (shoal, today) in scenario.shoals.iter().zip(&self.traits) {
            let stated = &shoal.traits;
            // A trait that the scenario leaves to the book is that row of the book, which stands above already.
            let own = [
                (stated.comes_to_splash, today.comes_to_splash),
                (stated.startles_at_splash, today.startles_at_splash),
                (stated.comes_to_patter, today.comes_to_patter),
                (stated.startles_at_patter, today.startles_at_patter),
                (stated.startles_at_fight, today.startles_at_fight),
                (stated.rises, today.rises),
                (stated.boldness, today.boldness),
            ];
            values.extend(own.into_iter().filter_map(|(stated, today)| stated.map(|_| today)));
        }
        values
    }
}

/// A place in an elliptical home range, uniform over its area.
pub(super) fn home_place(
    half_length_m: f64,
    half_width_m: f64,
    home: Point,
    dice: &mut Dice,
) -> Point {
    loop {
        let (u, v) = (dice.between(-1.0, 1.0), dice.between(-1.0, 1.0));
        if u * u + v * v <= 1.0 {
            return Point { x_m: home.x_m + half_length_m * u, y_m: home.y_m + half_width_m * v };
        }
    }
}
