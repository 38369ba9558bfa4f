//! What a scenario does not know: every value that is drawn afresh each day, found by its dotted key.

use sha2::{Digest, Sha256};

use super::scenario::Scenario;
use crate::fish::{Shoal, TraitSpreads};
use crate::params::{Prior, Row, Spread};

/// A value of a scenario that differs from day to day: a row of a book nobody knows better, or a range in the file.
#[derive(Clone, Debug, PartialEq)]
pub struct Unknown {
    /// Its dotted key.
    pub key: String,
    /// What it is, in plain words.
    pub says: String,
    /// Unit of its values; empty for a share or a count.
    pub unit: String,
    place: Place,
}

#[derive(Clone, Debug, PartialEq)]
enum Place {
    Row(&'static str, Box<Row>),
    Spread(Spot, Spread),
}

/// Where a range stands in a scenario.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Spot {
    Weather(usize),
    Count(usize),
    Mass(usize),
    Trait(usize, usize),
}

/// Weather that may differ, in the order of [`weather`].
const WEATHER: [(&str, &str, &str); 4] = [
    ("temperature", "water temperature", "°C"),
    ("wind", "wind speed", "m/s"),
    ("wind_to", "where the wind blows to, anticlockwise from the right along the bank", "°"),
    ("oxygen", "dissolved oxygen", "mg/L"),
];

/// Traits that may differ, in the order of [`traits`].
const TRAITS: [(&str, &str); 7] = [
    ("comes_to_splash", "share of hungry fish within hearing that come to a feeder's splash"),
    ("startles_at_splash", "share of fish close by that a feeder's splash startles"),
    ("comes_to_patter", "share of hungry fish within hearing that come to loose feed"),
    ("startles_at_patter", "share of fish close by that loose feed startles"),
    ("startles_at_fight", "share of fish close by that flee when one is hooked"),
    ("rises", "readiness to come up for falling feed"),
    ("boldness", "how readily its fish take a hookbait, beside ordinary ones"),
];

/// The last of [`TRAITS`], the one that is no share.
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

fn traits(of: &mut TraitSpreads) -> [&mut Option<Spread>; 7] {
    [
        &mut of.comes_to_splash,
        &mut of.startles_at_splash,
        &mut of.comes_to_patter,
        &mut of.startles_at_patter,
        &mut of.startles_at_fight,
        &mut of.rises,
        &mut of.boldness,
    ]
}

fn differs(spread: Spread) -> bool {
    match spread {
        Spread::Fixed(_) => false,
        Spread::Between { low, high } => low < high,
        Spread::About { cv, .. } => cv > 0.0,
    }
}

impl Unknown {
    /// The value below which a share `u` of what is held likely lies.
    #[must_use]
    pub fn at(&self, u: f64) -> f64 {
        match &self.place {
            Place::Row(_, row) => row.quantile(u),
            Place::Spread(Spot::Trait(_, number), spread) if *number != BOLDNESS => {
                spread.quantile(u).clamp(0.0, 1.0)
            }
            Place::Spread(_, spread) => spread.quantile(u),
        }
    }

    /// Holds it at a value every day; everything else of a day stays as it was.
    pub fn hold(&self, scenario: &mut Scenario, value: f64) {
        let fixed = Spread::Fixed(value);
        match &self.place {
            Place::Row(book, row) => {
                if let Some(book) = scenario.books.named(book) {
                    // A quantile lies within the row's range, which is all that could be wrong.
                    let _ = book.pin(&row.key, value);
                }
            }
            Place::Spread(Spot::Weather(number), _) => *weather(scenario)[*number] = fixed,
            Place::Spread(Spot::Count(shoal), _) => scenario.shoals[*shoal].count = fixed,
            Place::Spread(Spot::Mass(shoal), _) => scenario.shoals[*shoal].mass_kg = fixed,
            Place::Spread(Spot::Trait(shoal, number), _) => {
                *traits(&mut scenario.shoals[*shoal].traits)[*number] = Some(fixed);
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
                place: Place::Row(book.name, Box::new(row.clone())),
            })
        });
        let mut found: Vec<Unknown> = rows.collect();
        let mut spread = |key: String, says: String, unit: &str, spot: Spot, spread: Spread| {
            if differs(spread) {
                let place = Place::Spread(spot, spread);
                found.push(Unknown { key, says, unit: unit.to_owned(), place });
            }
        };
        let mut here = self.clone();
        for (number, (at, (key, says, unit))) in
            weather(&mut here).into_iter().zip(WEATHER).enumerate()
        {
            let key = format!("water.{key}");
            spread(key, says.to_owned(), unit, Spot::Weather(number), *at);
        }
        for (number, shoal) in here.shoals.iter_mut().enumerate() {
            let Shoal { name, count, mass_kg, traits: own, .. } = shoal;
            let key = |word: &str| format!("shoal.{name}.{word}");
            let says = |words: &str| format!("{name}: {words}");
            spread(key("count"), says("fish in reach"), "", Spot::Count(number), *count);
            spread(key("weight"), says("mean weight"), "kg", Spot::Mass(number), *mass_kg);
            for (which, (own, (word, words))) in traits(own).into_iter().zip(TRAITS).enumerate() {
                if let Some(own) = *own {
                    spread(key(word), says(words), "", Spot::Trait(number, which), own);
                }
            }
        }
        found
    }

    /// Makes every day the same: each value that differs at its mean or central value, homes where they are stated,
    /// and the same fish in the same places at the start, so that nothing but luck within the day is left.
    pub fn fix_days(&mut self) {
        for name in self.books.all().map(|book| book.name) {
            if let Some(book) = self.books.named(name) {
                book.pin_all();
            }
        }
        let fixed = |spread: &mut Spread| *spread = Spread::Fixed(spread.mean());
        weather(self).into_iter().for_each(fixed);
        for shoal in &mut self.shoals {
            fixed(&mut shoal.count);
            fixed(&mut shoal.mass_kg);
            traits(&mut shoal.traits).into_iter().flatten().for_each(fixed);
            shoal.home_shift_m = 0.0;
        }
        self.fixed_days = true;
        // Results of fixed days are no results of the scenario as it was written.
        let mut hash = Sha256::new();
        hash.update(self.sha256.as_bytes());
        hash.update(b"\n--fixed-days");
        self.sha256 = hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect();
    }
}
