//! One day: weather, stock, feeding activity and the day's values of every uncertain input.

use super::stock::{Stock, StockDraw};
use super::streams::{Purpose, day_stream, replicate_stream};
use crate::angler::AnglerParams;
use crate::bait::BaitParams;
use crate::engine::Dice;
use crate::fish::{Fish, FishParams, Traits, oxygen_factor, temperature_factor};
use crate::scenario::Scenario;
use crate::water::{Conditions, Fluid, Point, WaterParams, fluid_at};

/// Number of the only day that a scenario with fixed days has.
const FIXED_DAY: u32 = 0;

/// One day, the same for every plan.
#[derive(Clone, Debug)]
pub struct Day {
    /// Seed it was drawn from.
    pub seed: u64,
    /// Number of the day, from 1.
    pub number: u32,
    /// Replicate of the noise within the day; 0 is the day's own.
    pub replicate: u64,
    /// Weather.
    pub conditions: Conditions,
    /// Density and viscosity of the water.
    pub fluid: Fluid,
    /// The day's values of the water's book.
    pub water: WaterParams,
    /// The day's values of the bait's book.
    pub bait: BaitParams,
    /// The day's values of the fish's book.
    pub fish: FishParams,
    /// The day's values of the angler's book.
    pub angler: AnglerParams,
    /// The day's traits of each shoal.
    pub traits: Vec<Traits<f64>>,
    /// Centre of each shoal's home range on the day.
    pub homes: Vec<Point>,
    /// Feeding activity at the day's temperature and oxygen, 0 to 1.
    pub feeding_activity: f64,
    /// Fish in reach at the start.
    pub stock: Vec<Fish>,
}

impl Day {
    /// The stream of one purpose of the session itself.
    pub(super) fn stream(&self, purpose: Purpose) -> Dice {
        replicate_stream(self.seed, self.number, self.replicate, purpose, 0)
    }

    /// Draws day `number` of a seed.
    #[must_use]
    pub fn draw(scenario: &Scenario, seed: u64, number: u32) -> Self {
        let replicate = if scenario.fixed_days { u64::from(number) } else { 0 };
        Self::draw_mixed(scenario, seed, number, number, replicate)
    }

    /// Draws the weather and stock of day `number`, the uncertain inputs of day `inputs_day`, and one replicate of
    /// the noise within the day; replicate 0 is the day's own.
    ///
    /// The three are drawn from separate streams, so that the effect of each can be measured by itself.
    #[must_use]
    pub fn draw_mixed(
        scenario: &Scenario,
        seed: u64,
        number: u32,
        inputs_day: u32,
        replicate: u64,
    ) -> Self {
        let [number, inputs_day] =
            if scenario.fixed_days { [FIXED_DAY; 2] } else { [number, inputs_day] };
        let conditions = scenario.weather.draw(&mut day_stream(seed, number, Purpose::Weather, 0));
        let books = &scenario.books;
        let book_dice = |book| day_stream(seed, inputs_day, Purpose::Books, book);
        let water = WaterParams::from_values(&books.water.draw(&mut book_dice(0)));
        let bait = BaitParams::from_values(&books.bait.draw(&mut book_dice(1)));
        let mut fish = FishParams::from_values(&books.fish.draw(&mut book_dice(2)));
        let angler = AnglerParams::from_values(&books.angler.draw(&mut book_dice(3)));
        let activity = temperature_factor(conditions.temperature_c, &fish)
            * oxygen_factor(conditions.oxygen_mg_l, &fish);
        fish.scale_by_activity(activity);
        let (params, day) = (&fish, number);
        let draw = StockDraw { scenario, params, activity, seed, day, replicate };
        let Stock { traits, homes, fish: stock } = draw.draw();
        Self {
            seed,
            number,
            replicate,
            conditions,
            fluid: fluid_at(conditions.temperature_c),
            water,
            bait,
            fish,
            angler,
            traits,
            homes,
            feeding_activity: activity,
            stock,
        }
    }

    /// The day's values of all uncertain inputs: the rows of every book, then the traits that the scenario states for
    /// its shoals.
    ///
    /// The same inputs come in the same order every day; inputs without a spread have the same value every day.
    #[must_use]
    pub fn uncertain_inputs(&self, scenario: &Scenario) -> Vec<f64> {
        let mut values =
            [self.water.values(), self.bait.values(), self.fish.values(), self.angler.values()]
                .concat();
        for (shoal, today) in scenario.shoals.iter().zip(&self.traits) {
            // A trait that the scenario does not state is a row of the book, which is listed above.
            let stated = shoal.traits.iter().filter(|(_, spread)| spread.is_some());
            values.extend(stated.map(|(of, _)| today[of]));
        }
        values
    }
}
