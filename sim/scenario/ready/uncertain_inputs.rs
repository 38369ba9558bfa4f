//! The uncertain inputs of a scenario: every value that is drawn for each day, by its dotted key.

use sha2::{Digest, Sha256};

use super::scenario::Scenario;
use crate::fish::{Shoal, TraitSpreads};
use crate::params::{Prior, Row, Spread};
use crate::scenario::schema::{FullKey, Key, KeySpec, shoal, water};

/// A value of a scenario that differs from day to day: a row of a book with a prior, or a spread in the file.
#[derive(Clone, Debug, PartialEq)]
pub struct Unknown {
    /// Its dotted key.
    pub key: String,
    /// What it is, in plain words.
    pub says: String,
    /// Unit of its values; empty for a share or a count.
    pub unit: String,
    input: Input,
}

#[derive(Clone, Debug, PartialEq)]
enum Input {
    Row(&'static str, Box<Row>),
    Spread(SpreadSlot, Spread),
}

/// The field of a scenario that has a spread, by indices.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum SpreadSlot {
    Weather(usize),
    Count(usize),
    Stock(usize),
    Mass(usize),
    Trait(usize, usize),
}

/// Weather that may differ, in the order of [`weather`]: key, description and unit.
const WEATHER: [(Key<Spread>, &str, &str); 4] = [
    (water::TEMPERATURE, "water temperature", "°C"),
    (water::WIND, "wind speed", "m/s"),
    (
        water::WIND_TO,
        "direction the wind blows to, anticlockwise from the right along the bank",
        "°",
    ),
    (water::OXYGEN, "dissolved oxygen", "mg/L"),
];

/// Traits that may differ, in the order of [`traits`].
const TRAITS: [KeySpec; 7] = [
    shoal::COMES_TO_SPLASH.spec(),
    shoal::STARTLES_AT_SPLASH.spec(),
    shoal::COMES_TO_PATTER.spec(),
    shoal::STARTLES_AT_PATTER.spec(),
    shoal::STARTLES_AT_FIGHT.spec(),
    shoal::RISES.spec(),
    shoal::BOLDNESS.spec(),
];

/// Index in [`TRAITS`] of the one that is not a share.
const BOLDNESS: usize = 6;

fn weather(scenario: &mut Scenario) -> [&mut Spread; 4] {
    let weather = &mut scenario.weather;
    [
        &mut weather.temperature_c,
        &mut weather.wind_m_s,
        &mut weather.wind_to_deg,
        &mut weather.oxygen_mg_l,
    ]
}

fn traits(spreads: &mut TraitSpreads) -> [&mut Option<Spread>; 7] {
    [
        &mut spreads.comes_to_splash,
        &mut spreads.startles_at_splash,
        &mut spreads.comes_to_patter,
        &mut spreads.startles_at_patter,
        &mut spreads.startles_at_fight,
        &mut spreads.rises,
        &mut spreads.boldness,
    ]
}

fn varies(spread: Spread) -> bool {
    match spread {
        Spread::Fixed(_) => false,
        Spread::Between { low, high } => low < high,
        Spread::About { cv, .. } => cv > 0.0,
    }
}

impl Unknown {
    /// The quantile `u` of its distribution.
    #[must_use]
    pub fn at(&self, u: f64) -> f64 {
        match &self.input {
            Input::Row(_, row) => row.quantile(u),
            Input::Spread(SpreadSlot::Trait(_, index), spread) if *index != BOLDNESS => {
                spread.quantile(u).clamp(0.0, 1.0)
            }
            Input::Spread(_, spread) => spread.quantile(u),
        }
    }

    /// Fixes it at a value on every day; everything else of a day stays as it is.
    pub fn hold(&self, scenario: &mut Scenario, value: f64) {
        let fixed = Spread::Fixed(value);
        match &self.input {
            Input::Row(book, row) => {
                if let Some(book) = scenario.books.named(book) {
                    // A quantile is within the row's range, so this cannot fail.
                    let _ = book.pin(&row.key, value);
                }
            }
            Input::Spread(SpreadSlot::Weather(index), _) => *weather(scenario)[*index] = fixed,
            Input::Spread(SpreadSlot::Count(shoal), _) => scenario.shoals[*shoal].count = fixed,
            Input::Spread(SpreadSlot::Stock(shoal), _) => {
                if let Some(stock) = &mut scenario.shoals[*shoal].stock {
                    stock.kg_m2 = fixed;
                }
            }
            Input::Spread(SpreadSlot::Mass(shoal), _) => scenario.shoals[*shoal].mass_kg = fixed,
            Input::Spread(SpreadSlot::Trait(shoal, index), _) => {
                *traits(&mut scenario.shoals[*shoal].traits)[*index] = Some(fixed);
            }
        }
    }
}

impl Scenario {
    /// Every value that differs from day to day: rows of the books, then weather, then shoals.
    #[must_use]
    pub fn unknowns(&self) -> Vec<Unknown> {
        let rows = self.books.all().into_iter().flat_map(|book| {
            let drawn = book.rows().iter().filter(|row| row.prior != Prior::Fixed);
            drawn.map(|row| Unknown {
                key: format!("book.{}.{}", book.name, row.key),
                says: row.says.clone(),
                unit: row.unit.clone(),
                input: Input::Row(book.name, Box::new(row.clone())),
            })
        });
        let mut inputs: Vec<Unknown> = rows.collect();
        let mut add =
            |key: &str, description: String, unit: &str, slot: SpreadSlot, spread: Spread| {
                if varies(spread) {
                    let input = Input::Spread(slot, spread);
                    inputs.push(Unknown {
                        key: key.to_owned(),
                        says: description,
                        unit: unit.to_owned(),
                        input,
                    });
                }
            };
        let mut scenario = self.clone();
        let spreads = weather(&mut scenario).into_iter().zip(WEATHER).enumerate();
        for (index, (spread, (key, description, unit))) in spreads {
            add(key.dotted(), description.to_owned(), unit, SpreadSlot::Weather(index), *spread);
        }
        for (index, shoal) in scenario.shoals.iter_mut().enumerate() {
            let Shoal { name, count, stock, mass_kg, traits: spreads, .. } = shoal;
            let describe = |words: &str| format!("{name}: {words}");
            let (count_key, weight_key) = (shoal::COUNT.at(&[name]), shoal::WEIGHT.at(&[name]));
            if let Some(stock) = stock {
                let (key, slot) = (shoal::STOCK.at(&[name]), SpreadSlot::Stock(index));
                add(key.dotted(), describe("stock"), "kg/m²", slot, stock.kg_m2);
            } else {
                let slot = SpreadSlot::Count(index);
                add(count_key.dotted(), describe("fish in reach"), "", slot, *count);
            }
            let slot = SpreadSlot::Mass(index);
            add(weight_key.dotted(), describe("mean weight"), "kg", slot, *mass_kg);
            for (number, (spread, key)) in traits(spreads).into_iter().zip(TRAITS).enumerate() {
                if let Some(spread) = *spread {
                    let slot = SpreadSlot::Trait(index, number);
                    add(key.at(&[name]).dotted(), describe(&key.phrase()), "", slot, spread);
                }
            }
        }
        inputs
    }

    /// Makes every day the same: each value that differs gets its mean or central value, homes are where the file
    /// puts them, and the same fish start in the same places, so that only the noise within a day is left.
    pub fn fix_days(&mut self) {
        for name in self.books.all().map(|book| book.name) {
            if let Some(book) = self.books.named(name) {
                book.pin_all();
            }
        }
        let fix = |spread: &mut Spread| *spread = Spread::Fixed(spread.mean());
        weather(self).into_iter().for_each(fix);
        for shoal in &mut self.shoals {
            fix(&mut shoal.count);
            shoal.stock.iter_mut().for_each(|stock| fix(&mut stock.kg_m2));
            fix(&mut shoal.mass_kg);
            traits(&mut shoal.traits).into_iter().flatten().for_each(fix);
            shoal.home_shift_m = 0.0;
        }
        self.fixed_days = true;
        // Results of fixed days are not results of the scenario as it was written.
        let mut hash = Sha256::new();
        hash.update(self.sha256.as_bytes());
        hash.update(b"\n--fixed-days");
        self.sha256 = hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect();
    }
}
