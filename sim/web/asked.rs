//! What the page asks, read from the query of a request and held to its bounds.

use super::shelf::Shelf;
use super::told::Wrong;
use crate::scenario::{Change, Scenario, Units, Written, rewrite};

/// Longest query [bytes].
const LONGEST_QUERY: usize = 8_192;
/// Most values set.
const MOST_SETS: usize = 80;
/// Most plans side by side.
pub(super) const MOST_PLANS: usize = 4;
/// Most days of one comparison.
pub(super) const MOST_DAYS: u32 = 2_000;
/// Days where nothing else is asked.
const USUAL_DAYS: u32 = 400;
/// Longest session that the page fishes [s].
const LONGEST_SESSION_S: f64 = 12.0 * 3600.0;
/// Most fish that the page keeps in reach on a day.
const MOST_FISH: f64 = 1_500.0;

/// One request's query, taken apart.
#[derive(Clone, Debug, Default)]
pub(super) struct Asked {
    pairs: Vec<(String, String)>,
}

impl Asked {
    /// Takes a query apart.
    pub(super) fn of(query: Option<&str>) -> Result<Self, Wrong> {
        let query = query.unwrap_or("");
        if query.len() > LONGEST_QUERY {
            return Err(Wrong::asked(format!("the query is longer than {LONGEST_QUERY} bytes")));
        }
        let pairs: Vec<(String, String)> =
            form_urlencoded::parse(query.as_bytes()).into_owned().collect();
        let strange = pairs.iter().find(|(key, value)| {
            key.chars().chain(value.chars()).any(|c| c.is_control() || c == '\u{fffd}')
        });
        match strange {
            Some((key, _)) => {
                Err(Wrong::asked(format!("{key:?} holds something that is no text on one line")))
            }
            None => Ok(Self { pairs }),
        }
    }

    fn all(&self, key: &str) -> Vec<String> {
        let named = self.pairs.iter().filter(|(known, _)| known == key);
        named.map(|(_, value)| value.clone()).collect()
    }

    /// The one value of a key.
    pub(super) fn one(&self, key: &str) -> Result<Option<&str>, Wrong> {
        let mut named = self.pairs.iter().filter(|(known, _)| known == key);
        let first = named.next().map(|(_, value)| value.as_str());
        match named.next() {
            Some(_) => Err(Wrong::asked(format!("{key} is given more than once"))),
            None => Ok(first),
        }
    }

    /// A value that must be there.
    pub(super) fn needed(&self, key: &str) -> Result<&str, Wrong> {
        self.one(key)?.ok_or_else(|| Wrong::asked(format!("{key} is missing")))
    }

    fn whole(&self, key: &str, least: u64, most: u64) -> Result<Option<u64>, Wrong> {
        let Some(text) = self.one(key)? else { return Ok(None) };
        let number = text.parse().ok().filter(|number| (least..=most).contains(number));
        let wrong = || Wrong::asked(format!("{key} is no whole number from {least} to {most}"));
        number.map(Some).ok_or_else(wrong)
    }

    /// The seed.
    pub(super) fn seed(&self) -> Result<u64, Wrong> {
        Ok(self.whole("seed", 0, u64::MAX)?.unwrap_or(1))
    }

    /// How many days to fish.
    pub(super) fn days(&self) -> Result<u32, Wrong> {
        let days = self.whole("days", 2, u64::from(MOST_DAYS))?;
        Ok(days.map_or(USUAL_DAYS, |days| days as u32))
    }

    /// The number of one day.
    pub(super) fn day(&self) -> Result<u32, Wrong> {
        Ok(self.whole("day", 1, 1_000_000)?.unwrap_or(1) as u32)
    }

    /// The units asked for, else those of the scenario.
    pub(super) fn units(&self, usual: Units) -> Result<Units, Wrong> {
        match self.one("units")? {
            None | Some("") => Ok(usual),
            Some("metric") => Ok(Units::Metric),
            Some("imperial") => Ok(Units::Imperial),
            Some(_) => Err(Wrong::asked("units are metric or imperial")),
        }
    }

    /// The scenario as it would be written, with copies made and values set; only the plans asked for where `only`.
    pub(super) fn written(&self, shelf: &Shelf, only: bool) -> Result<Written, Wrong> {
        let name = self.needed("scenario")?;
        let (sets, plans, copies) = (self.all("set"), self.all("plan"), self.copies()?);
        if sets.len() > MOST_SETS {
            return Err(Wrong::asked(format!("more than {MOST_SETS} values are set")));
        }
        if plans.len() > MOST_PLANS {
            return Err(Wrong::asked(format!("{MOST_PLANS} plans at most stand side by side")));
        }
        let keep: &[String] = if only { &plans } else { &[] };
        let change = Change { copies: &copies, sets: &sets, keep };
        Ok(rewrite(&shelf.written(name)?, change)?)
    }

    /// As [`Asked::written`], without the values set.
    pub(super) fn unset(&self, shelf: &Shelf) -> Result<Written, Wrong> {
        let name = self.needed("scenario")?;
        let copies = self.copies()?;
        let change = Change { copies: &copies, ..Change::default() };
        Ok(rewrite(&shelf.written(name)?, change)?)
    }

    fn copies(&self) -> Result<Vec<(String, String)>, Wrong> {
        let copies = self.all("copy");
        if copies.len() > MOST_PLANS {
            return Err(Wrong::asked(format!("{MOST_PLANS} copies at most")));
        }
        let pair = |copy: String| {
            let (from, to) = copy.split_once(':')?;
            Some((from.to_owned(), to.to_owned()))
        };
        copies
            .into_iter()
            .map(|copy| pair(copy).ok_or_else(|| Wrong::asked("a copy is written PLAN:NEW-NAME")))
            .collect()
    }

    /// The scenario to fish: as asked, and small enough for a page.
    pub(super) fn scenario(&self, shelf: &Shelf) -> Result<Scenario, Wrong> {
        let mut scenario = self.written(shelf, true)?.read(&[])?;
        scenario.plans.truncate(MOST_PLANS);
        within_bounds(&scenario)?;
        Ok(scenario)
    }
}

/// Holds a scenario to what a page can be asked to fish; the command line has no such bounds.
fn within_bounds(scenario: &Scenario) -> Result<(), Wrong> {
    if scenario.session_s > LONGEST_SESSION_S {
        return Err(Wrong::asked("the page fishes sessions of up to 12 h; use the command line"));
    }
    let fish: f64 = scenario.shoals.iter().map(|shoal| shoal.count.mean()).sum();
    if fish > MOST_FISH {
        return Err(Wrong::asked(format!(
            "the page keeps up to {MOST_FISH} fish in reach; use the command line"
        )));
    }
    Ok(())
}
