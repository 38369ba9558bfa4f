//! The uncertain inputs of a scenario: every value that is drawn for each day, by its dotted key.

use sha2::{Digest, Sha256};

use super::learned_book::{LearnedBook, UnknownTarget};
use super::scenario::Scenario;
use crate::bait::BaitValue;
use crate::fish::{Shoal, Trait};
use crate::params::{DailyDistribution, Parameter, Prior};
use crate::scenario::schema::{Dimension, FullKey, Key, key_of, shoal, water};
use crate::stats::quantile;
use crate::water::Weather;

/// A value of a scenario that differs from day to day: a row of a book with a prior, or a spread in the file.
#[derive(Clone, Debug, PartialEq)]
pub struct UncertainInput {
    /// Its dotted key.
    pub key: String,
    /// What the value means, in plain words.
    pub description: String,
    /// Unit of its values; empty for a share or a count.
    pub unit: String,
    input: Input,
}

#[derive(Clone, Debug, PartialEq)]
enum Input {
    Row(&'static str, Box<Parameter>),
    /// A row with its values in a learned book, in ascending order.
    LearnedRow(&'static str, Box<Parameter>, Vec<f64>),
    Spread(SpreadSlot, DailyDistribution),
    Bait(Box<BaitValue>),
}

/// The field of a scenario that has a spread, by indices.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum SpreadSlot {
    Weather(usize),
    Count(usize),
    Stock(usize),
    Mass(usize),
    Trait(usize, Trait),
}

/// Weather that may differ, in the order of [`weather`]: key, description and unit.
const WEATHER: [(Key<DailyDistribution>, &str, &str); 4] = [
    (water::TEMPERATURE, "water temperature", "°C"),
    (water::WIND, "wind speed", "m/s"),
    (
        water::WIND_TO,
        "direction the wind blows to, anticlockwise from the right along the bank",
        "°",
    ),
    (water::OXYGEN, "dissolved oxygen", "mg/L"),
];

fn weather(weather: &mut Weather) -> [&mut DailyDistribution; 4] {
    [
        &mut weather.temperature_c,
        &mut weather.wind_m_s,
        &mut weather.wind_to_deg,
        &mut weather.oxygen_mg_l,
    ]
}

pub(super) fn varies(spread: DailyDistribution) -> bool {
    match spread {
        DailyDistribution::Fixed(_) => false,
        DailyDistribution::Uniform { low, high } => low < high,
        DailyDistribution::LogNormal { cv, .. } => cv > 0.0,
    }
}

/// A value of a bait in plain words, by its dotted key: the names in it, then what the key means.
fn described(dotted: &str) -> String {
    let Some(key) = key_of(dotted) else { return dotted.to_owned() };
    let words = key.pattern.split('.').zip(dotted.split('.'));
    let names: Vec<&str> =
        words.filter(|(segment, _)| *segment == "*").map(|(_, name)| name).collect();
    format!("{}: {}", names.join(", "), key.phrase())
}

/// SI unit of a value of a bait, by its dotted key; empty for a share.
fn bait_unit(dotted: &str) -> &'static str {
    match key_of(dotted).and_then(|key| key.kind.dimension()) {
        Some(Dimension::Mass) => "kg",
        Some(Dimension::Attractant) => "mol/kg",
        Some(Dimension::Time) => "s",
        _ => "",
    }
}

impl UncertainInput {
    /// The quantile `u` of its distribution.
    #[must_use]
    pub fn quantile(&self, u: f64) -> f64 {
        match &self.input {
            Input::Row(_, row) => row.quantile(u),
            Input::LearnedRow(_, row, values) => quantile(values, u).unwrap_or(row.value),
            Input::Spread(SpreadSlot::Trait(_, of), spread) => of.within_limits(spread.quantile(u)),
            Input::Spread(_, spread) => spread.quantile(u),
            Input::Bait(value) => value.spread.quantile(u),
        }
    }

    /// Fixes it at a value on every day; everything else of a day stays as it is.
    pub fn fix_at(&self, scenario: &mut Scenario, value: f64) {
        let fixed = DailyDistribution::Fixed(value);
        match &self.input {
            Input::Row(book, row) | Input::LearnedRow(book, row, _) => {
                if let Some(book) = scenario.books.book_mut(book) {
                    // A quantile is within the row's range, so this cannot fail.
                    let _ = book.set(&row.key, value);
                }
            }
            Input::Spread(SpreadSlot::Weather(index), _) => {
                *weather(&mut scenario.weather)[*index] = fixed;
            }
            Input::Spread(SpreadSlot::Count(shoal), _) => scenario.shoals[*shoal].count = fixed,
            Input::Spread(SpreadSlot::Stock(shoal), _) => {
                if let Some(stock) = &mut scenario.shoals[*shoal].stock {
                    stock.kg_m2 = fixed;
                }
            }
            Input::Spread(SpreadSlot::Mass(shoal), _) => scenario.shoals[*shoal].mass_kg = fixed,
            Input::Spread(SpreadSlot::Trait(shoal, of), _) => {
                scenario.shoals[*shoal].traits[*of] = Some(fixed);
            }
            Input::Bait(value) => {
                let all = scenario.all_bait_values_mut();
                let same = all.filter(|other| other.origin == value.origin);
                same.for_each(|other| other.spread = fixed);
            }
        }
    }
}

/// A spread in the file as an uncertain input, from its key, description and unit. `None` if it is the same every day.
fn spread_input(
    (key, description, unit): (&str, String, &str),
    slot: SpreadSlot,
    spread: DailyDistribution,
) -> Option<UncertainInput> {
    varies(spread).then(|| UncertainInput {
        key: key.to_owned(),
        description,
        unit: unit.to_owned(),
        input: Input::Spread(slot, spread),
    })
}

/// What differs from day to day in the shoal with this index: number or stock of fish, their mean weight, its traits.
fn uncertain_in_shoal(index: usize, shoal: &Shoal) -> Vec<UncertainInput> {
    let name = shoal.name.as_str();
    let describe = |words: &str| format!("{name}: {words}");
    let (stock_key, count_key) = (shoal::STOCK.at(&[name]), shoal::COUNT.at(&[name]));
    let weight_key = shoal::WEIGHT.at(&[name]);
    let fish = match &shoal.stock {
        Some(stock) => spread_input(
            (stock_key.dotted(), describe("stock"), "kg/m²"),
            SpreadSlot::Stock(index),
            stock.kg_m2,
        ),
        None => spread_input(
            (count_key.dotted(), describe("fish in reach"), ""),
            SpreadSlot::Count(index),
            shoal.count,
        ),
    };
    let weight = (weight_key.dotted(), describe("mean weight"), "kg");
    let weight = spread_input(weight, SpreadSlot::Mass(index), shoal.mass_kg);
    let traits = shoal.traits.iter().filter_map(|(of, spread)| {
        let key = shoal::of_trait(of).spec();
        let path = key.at(&[name]);
        let words = (path.dotted(), describe(&key.phrase()), "");
        spread_input(words, SpreadSlot::Trait(index, of), (*spread)?)
    });
    fish.into_iter().chain(weight).chain(traits).collect()
}

/// Rows that matter only where a scenario states a line or a hook.
const END_TACKLE_ROWS: [&str; 8] = [
    "book.fish.line_shyness",
    "book.fish.hook_shyness",
    "book.angler.ordinary_line_kg",
    "book.angler.line_strain_per_kg",
    "book.angler.hook_strain_per_kg",
    "book.angler.cover_strain",
    "book.angler.cover_strain_m",
    "book.angler.fight_line_power",
];

impl Scenario {
    /// The uncertain inputs that can move a result: all but those of line and hook where neither is stated.
    #[must_use]
    pub fn inputs_that_matter(&self) -> Vec<UncertainInput> {
        let mut inputs = self.uncertain_inputs();
        if !self.states_end_tackle() {
            inputs.retain(|input| !END_TACKLE_ROWS.contains(&input.key.as_str()));
        }
        inputs
    }

    /// Every value that differs from day to day: rows of the books, then weather, then shoals, then baits in use.
    #[must_use]
    pub fn uncertain_inputs(&self) -> Vec<UncertainInput> {
        let mut inputs = self.uncertain_rows();
        let mut conditions = self.weather.clone();
        for (index, (spread, key)) in weather(&mut conditions).into_iter().zip(WEATHER).enumerate()
        {
            let (key, description, unit) = key;
            let key = (key.dotted(), description.to_owned(), unit);
            inputs.extend(spread_input(key, SpreadSlot::Weather(index), *spread));
        }
        for (index, shoal) in self.shoals.iter().enumerate() {
            inputs.extend(uncertain_in_shoal(index, shoal));
        }
        inputs.extend(self.bait_values().into_iter().map(|value| UncertainInput {
            key: value.origin.clone(),
            description: described(&value.origin),
            unit: bait_unit(&value.origin).to_owned(),
            input: Input::Bait(Box::new(value.clone())),
        }));
        inputs
    }

    /// The rows of the books that are drawn for each day; those of a learned book have its values.
    fn uncertain_rows(&self) -> Vec<UncertainInput> {
        let named = self.books.all().into_iter();
        let named = named.flat_map(|book| book.rows().iter().map(|row| (book.name, row)));
        let drawn = named.enumerate().filter(|(_, (_, row))| row.prior != Prior::Fixed);
        let rows = drawn.map(|(place, (book, row))| {
            let learned = self.learned.as_ref();
            let values = learned.and_then(|book| book.sorted_values(UnknownTarget::Row(place)));
            let boxed = Box::new(row.clone());
            UncertainInput {
                key: format!("book.{book}.{}", row.key),
                description: row.meaning.clone(),
                unit: row.unit.clone(),
                input: match values {
                    Some(values) => Input::LearnedRow(book, boxed, values),
                    None => Input::Row(book, boxed),
                },
            }
        });
        rows.collect()
    }

    /// Makes every day the same: each value that differs gets its mean or central value, homes are where the file
    /// puts them, and the same fish start in the same places, so that only the noise within a day is left.
    pub fn fix_days(&mut self) {
        for name in self.books.all().map(|book| book.name) {
            if let Some(book) = self.books.book_mut(name) {
                book.fix_all();
            }
        }
        let fix =
            |spread: &mut DailyDistribution| *spread = DailyDistribution::Fixed(spread.mean());
        weather(&mut self.weather).into_iter().for_each(fix);
        self.all_bait_values_mut().for_each(|value| fix(&mut value.spread));
        for shoal in &mut self.shoals {
            fix(&mut shoal.count);
            shoal.stock.iter_mut().for_each(|stock| fix(&mut stock.kg_m2));
            fix(&mut shoal.mass_kg);
            shoal.traits.values_mut().flatten().for_each(fix);
            shoal.home_shift_m = 0.0;
        }
        self.learned = self.learned.as_ref().map(LearnedBook::fixed_at_medians);
        self.fixed_days = true;
        // Results of fixed days are not results of the scenario as it was written.
        let mut hash = Sha256::new();
        hash.update(self.sha256.as_bytes());
        hash.update(b"\n--fixed-days");
        self.sha256 = hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect();
    }
}
