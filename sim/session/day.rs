//! One day: weather, stock, feeding activity and the day's values of every uncertain input.

use super::drawn_books::DrawnBooks;
use super::stock::{Stock, StockDraw};
use super::streams::{Purpose, day_stream, replicate_stream};
use crate::angler::AnglerParams;
use crate::bait::{BaitParams, BaitValue, Hookbait, Recipe};
use crate::engine::{Dice, Time};
use crate::fish::{
    Fish, FishParams, FishState, HomeCourse, Shoal, Traits, glare, oxygen_factor, vigour,
};
use crate::numerics::{exp, powf};
use crate::scenario::{Scenario, UnknownTarget};
use crate::water::{Clarity, Conditions, Course, DayCourses, Fluid, Point, WaterParams, fluid_at};

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
    /// The day's recipes.
    pub recipes: Vec<Recipe>,
    /// The day's hookbaits.
    pub hookbaits: Vec<Hookbait>,
    /// The day's values of [`Scenario::bait_values`].
    pub bait_values: Vec<f64>,
    /// The day's traits of each shoal.
    pub traits: Vec<Traits<f64>>,
    /// Home range of each shoal on the day.
    pub homes: Vec<HomeCourse>,
    /// Largest motivation to feed of any shoal in the session.
    pub feeding_activity: f64,
    /// Largest motivation to feed of each shoal in the session.
    pub most_motivated: Vec<f64>,
    /// Motivation to feed of each shoal over the session, by time since its start [s]: appetite over vigour, and the
    /// light.
    pub motivations: Vec<Course>,
    /// Light and water temperature over the session.
    pub courses: DayCourses,
    /// How much faster than at 20 °C fish and small life act on the day.
    pub vigour: f64,
    /// How much farther a fish sees than in coloured water, by the clarity of the water.
    pub sight: f64,
    /// How well a fish sees a line in this water by full light, over how well it does in clear water, 0 to 1.
    pub line_seen: f64,
    /// Fish of the day: those in reach at the start, and those that come before the session ends.
    pub stock: Vec<Fish>,
    /// Rows of all books as they were drawn, before the day's weather acts on them.
    pub drawn: Vec<f64>,
}

impl Day {
    /// The stream of one purpose of the session itself.
    pub(super) fn stream(&self, purpose: Purpose) -> Dice {
        replicate_stream(self.seed, self.number, self.replicate, purpose, 0)
    }

    /// The stream of one purpose and one agent for what happens after a pause; no replicate of a whole day has it.
    pub(super) fn later_stream(&self, purpose: Purpose, agent: u64, replicate: u64) -> Dice {
        const LATER: u64 = 1 << 32;
        replicate_stream(self.seed, self.number, LATER + replicate, purpose, agent)
    }

    /// Centre of a shoal's home range at a time.
    #[inline]
    #[must_use]
    pub fn home(&self, shoal: usize, now: Time) -> Point {
        self.homes[shoal].at(now)
    }

    /// Motivation to feed of a shoal's fish at a time.
    #[inline]
    #[must_use]
    pub fn motivation(&self, shoal: usize, now: Time) -> f64 {
        self.motivations[shoal].at(now.seconds())
    }

    /// Mass of the fish in reach at the start, each counted as far as it is keen to feed in the middle of the session [kg].
    ///
    /// It is what the day offers to everybody on the water, whatever they fish.
    #[must_use]
    pub fn keen_kg(&self, session_s: f64) -> f64 {
        let middle = Time::from_seconds(0.5 * session_s);
        let in_reach = self.stock.iter().filter(|fish| fish.state != FishState::Away);
        let keen_kg = in_reach.map(|fish| {
            let motivation = self.motivation(fish.shoal, middle) * fish.responsiveness;
            fish.mass_kg() * motivation.min(1.0)
        });
        keen_kg.sum()
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
        let inputs_day = if scenario.fixed_days { FIXED_DAY } else { inputs_day };
        let learned = Self::learned_draw(scenario, seed, inputs_day);
        Self::draw_with(scenario, seed, [number, inputs_day], replicate, learned)
    }

    /// What the scenario's learned book says on day `inputs_day`: its unknowns and their values. `None` without a book.
    #[must_use]
    pub fn learned_draw(
        scenario: &Scenario,
        seed: u64,
        inputs_day: u32,
    ) -> Option<(&[UnknownTarget], &[f64])> {
        let book = scenario.learned.as_ref()?;
        let u = day_stream(seed, inputs_day, Purpose::LearnedBook, 0).uniform();
        Some((book.targets.as_slice(), book.draw(u)))
    }

    /// Draws a day as [`Day::draw_mixed`], `days` being `number` and `inputs_day`, with given values of some unknowns in
    /// place of their priors and of the scenario's learned book.
    #[must_use]
    pub fn draw_with(
        scenario: &Scenario,
        seed: u64,
        days: [u32; 2],
        replicate: u64,
        learned: Option<(&[UnknownTarget], &[f64])>,
    ) -> Self {
        let [number, inputs_day] = if scenario.fixed_days { [FIXED_DAY; 2] } else { days };
        let conditions = scenario.weather.draw(&mut day_stream(seed, number, Purpose::Weather, 0));
        let DrawnBooks { water, bait, mut fish, angler, stock_factors, drawn } =
            DrawnBooks::draw(scenario, seed, inputs_day, learned);
        let bait_value = |value: &BaitValue| {
            let stream = stream_of(&value.origin);
            value.spread.draw(&mut day_stream(seed, inputs_day, Purpose::BaitValue, stream))
        };
        let fish_as_drawn = fish.clone();
        fish.at_vigour(vigour(conditions.temperature_c, &fish));
        let (clock, clarity) = (scenario.clock.as_ref(), scenario.clarity);
        let courses = DayCourses::new(clock, scenario.session_s, &conditions, clarity, &water);
        let motivations = motivations(scenario, &courses, &conditions, &fish_as_drawn);
        let most_motivated: Vec<f64> =
            motivations.iter().map(|course| course.bounds()[1]).collect();
        let sight_in = |clarity| sight(clarity, &water, &fish_as_drawn);
        let sight = sight_in(clarity);
        let line_seen = (sight / sight_in(Clarity::Clear)).min(1.0);
        let (params, factors, day) = (&fish, &stock_factors, number);
        let draw = StockDraw { scenario, params, conditions, factors, seed, day, replicate };
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
            recipes: scenario.recipes.iter().map(|prior| prior.with_values(bait_value)).collect(),
            hookbaits: scenario.hookbaits.iter().map(|bait| bait.with_values(bait_value)).collect(),
            bait_values: scenario.bait_values().into_iter().map(bait_value).collect(),
            traits,
            homes,
            feeding_activity: most_motivated.iter().copied().fold(0.0, f64::max),
            most_motivated,
            motivations,
            courses,
            vigour: vigour(conditions.temperature_c, &fish_as_drawn),
            sight,
            line_seen,
            drawn,
            stock,
        }
    }

    /// The day's values of all uncertain inputs: the rows of every book, then the traits that the scenario states for
    /// its shoals, then the values of the baits and hookbaits that a plan uses and that differ.
    ///
    /// The same inputs come in the same order every day; inputs without a spread have the same value every day.
    #[must_use]
    pub fn uncertain_inputs(&self, scenario: &Scenario) -> Vec<f64> {
        let mut values = self.drawn.clone();
        for (shoal, today) in scenario.shoals.iter().zip(&self.traits) {
            // A trait that the scenario does not state is a row of the book, which is listed above.
            let stated = shoal.traits.iter().filter(|(_, spread)| spread.is_some());
            values.extend(stated.map(|(of, _)| today[of]));
        }
        values.extend(&self.bait_values);
        values
    }
}

/// The number of the stream of a value that is stated under a key (FNV-1a).
fn stream_of(key: &str) -> u64 {
    key.bytes().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

/// How much farther a fish sees than in coloured water: (z/z₀)ᵖ, z the Secchi depth.
fn sight(clarity: Clarity, water: &WaterParams, fish: &FishParams) -> f64 {
    powf(clarity.secchi_m(water) / Clarity::Coloured.secchi_m(water), fish.sight_clarity_power)
}

/// Motivation to feed of each shoal over a session: appetite at the temperature and oxygen over vigour, since what fish
/// do is the more frequent the warmer it is; and more or less of it as the light goes.
fn motivations(
    scenario: &Scenario,
    courses: &DayCourses,
    conditions: &Conditions,
    params: &FishParams,
) -> Vec<Course> {
    let oxygen = oxygen_factor(conditions.oxygen_mg_l, params);
    let motivation = |shoal: &Shoal, since_s| {
        let temperature_c = courses.temperature_c.at(since_s);
        let appetite = shoal.appetite(temperature_c, params) * oxygen;
        let dusk = 1.0 - glare(courses.brightness.at(since_s));
        let light = exp(params.dusk_motivation * dusk);
        light * (appetite / vigour(temperature_c, params)).min(1.0)
    };
    let until_s = scenario.session_s.max(600.0);
    let shoals = scenario.shoals.iter();
    shoals
        .map(|shoal| Course::sampled(0.0, until_s, 600.0, |since_s| motivation(shoal, since_s)))
        .collect()
}
