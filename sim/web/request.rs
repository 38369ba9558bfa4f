//! The query of a request, parsed and checked against its limits.

use super::catalogue::Catalogue;
use super::error::ApiError;
use crate::scenario::{Scenario, ScenarioEdit, ScenarioSource, Units, rewrite};

/// Maximum length of a query [bytes].
const MAX_QUERY_BYTES: usize = 8_192;
/// Maximum number of values set.
const MAX_SETS: usize = 80;
/// Maximum number of plans side by side.
pub(super) const MAX_PLANS: usize = 4;
/// Maximum number of days of one comparison.
pub(super) const MAX_DAYS: u32 = 2_000;
/// Default number of days of one comparison.
const DEFAULT_DAYS: u32 = 400;
/// Maximum length of a session that the page fishes [s].
const MAX_SESSION_S: f64 = 12.0 * 3600.0;
/// Latest time of a log [s].
const MAX_TIME_S: u64 = 48 * 3600;
/// Maximum mean number of fish in reach.
const MAX_FISH: f64 = 1_500.0;

/// The query of one request, as pairs of key and value.
#[derive(Clone, Debug, Default)]
pub(super) struct RequestQuery {
    pairs: Vec<(String, String)>,
}

impl RequestQuery {
    /// Parses a query.
    pub(super) fn parse(query: Option<&str>) -> Result<Self, ApiError> {
        let query = query.unwrap_or("");
        if query.len() > MAX_QUERY_BYTES {
            return Err(ApiError::bad_request(format!(
                "the query is longer than {MAX_QUERY_BYTES} bytes"
            )));
        }
        let pairs: Vec<(String, String)> =
            form_urlencoded::parse(query.as_bytes()).into_owned().collect();
        let unprintable = pairs.iter().find(|(key, value)| {
            key.chars().chain(value.chars()).any(|c| c.is_control() || c == '\u{fffd}')
        });
        match unprintable {
            Some((key, _)) => Err(ApiError::bad_request(format!(
                "{key:?} contains control characters or invalid text"
            ))),
            None => Ok(Self { pairs }),
        }
    }

    /// All values of a key.
    fn values(&self, key: &str) -> Vec<String> {
        let named = self.pairs.iter().filter(|(known, _)| known == key);
        named.map(|(_, value)| value.clone()).collect()
    }

    /// The value of a key; `None` if the query lacks it.
    fn value(&self, key: &str) -> Result<Option<&str>, ApiError> {
        let mut named = self.pairs.iter().filter(|(known, _)| known == key);
        let first = named.next().map(|(_, value)| value.as_str());
        match named.next() {
            Some(_) => Err(ApiError::bad_request(format!("{key} is given more than once"))),
            None => Ok(first),
        }
    }

    /// The value of a key; empty if the query lacks it.
    #[cfg(feature = "program")]
    pub(super) fn optional(&self, key: &str) -> Result<&str, ApiError> {
        Ok(self.value(key)?.unwrap_or(""))
    }

    /// The value of a key that must be given.
    pub(super) fn required(&self, key: &str) -> Result<&str, ApiError> {
        self.value(key)?.ok_or_else(|| ApiError::bad_request(format!("{key} is missing")))
    }

    /// A whole number from `min` to `max`; `None` if the query lacks it.
    fn whole_number(&self, key: &str, min: u64, max: u64) -> Result<Option<u64>, ApiError> {
        let Some(text) = self.value(key)? else { return Ok(None) };
        let number = text.parse().ok().filter(|number| (min..=max).contains(number));
        number.map(Some).ok_or_else(|| {
            ApiError::bad_request(format!("{key} is no whole number from {min} to {max}"))
        })
    }

    /// A time in seconds; `None` if the query lacks it.
    pub(super) fn time_s(&self, key: &str) -> Result<Option<f64>, ApiError> {
        let time_s = self.whole_number(key, 0, MAX_TIME_S)?;
        Ok(time_s.map(|time_s| time_s as f64))
    }

    /// The seed; 1 if the query lacks it.
    pub(super) fn seed(&self) -> Result<u64, ApiError> {
        Ok(self.whole_number("seed", 0, u64::MAX)?.unwrap_or(1))
    }

    /// Number of days to fish.
    pub(super) fn days(&self) -> Result<u32, ApiError> {
        let days = self.whole_number("days", 2, u64::from(MAX_DAYS))?;
        Ok(days.map_or(DEFAULT_DAYS, |days| days as u32))
    }

    /// First and last number of some sessions.
    pub(super) fn session_range(&self) -> Result<(u32, u32), ApiError> {
        let number = |key: &str| {
            let number = self.whole_number(key, 1, u64::from(MAX_DAYS))?;
            number
                .map(|n| n as u32)
                .ok_or_else(|| ApiError::bad_request(format!("{key} is missing")))
        };
        Ok((number("from")?, number("to")?))
    }

    /// Number of one day; 1 if the query lacks it.
    pub(super) fn day(&self) -> Result<u32, ApiError> {
        Ok(self.whole_number("day", 1, 1_000_000)?.unwrap_or(1) as u32)
    }

    /// The units to show; `default` if the query lacks them.
    pub(super) fn units(&self, default: Units) -> Result<Units, ApiError> {
        match self.value("units")? {
            None | Some("") => Ok(default),
            Some("metric") => Ok(Units::Metric),
            Some("imperial") => Ok(Units::Imperial),
            Some(_) => Err(ApiError::bad_request("units are metric or imperial")),
        }
    }

    /// Text of the scenario with copied plans and changed values; with only the chosen plans if `only_chosen`.
    pub(super) fn edited_text(
        &self,
        catalogue: &Catalogue,
        only_chosen: bool,
    ) -> Result<ScenarioSource, ApiError> {
        let name = self.required("scenario")?;
        let (sets, plans, copies) = (self.values("set"), self.values("plan"), self.copies()?);
        if sets.len() > MAX_SETS {
            return Err(ApiError::bad_request(format!("more than {MAX_SETS} values are changed")));
        }
        if plans.len() > MAX_PLANS {
            return Err(ApiError::bad_request(format!(
                "at most {MAX_PLANS} plans can be shown side by side"
            )));
        }
        let keep: &[String] = if only_chosen { &plans } else { &[] };
        let change = ScenarioEdit { copies: &copies, sets: &sets, keep };
        Ok(rewrite(&catalogue.text(name)?, change)?)
    }

    /// Text of the scenario with copied plans, but with the values of the file.
    pub(super) fn unchanged_text(&self, catalogue: &Catalogue) -> Result<ScenarioSource, ApiError> {
        let name = self.required("scenario")?;
        let copies = self.copies()?;
        let change = ScenarioEdit { copies: &copies, ..ScenarioEdit::default() };
        Ok(rewrite(&catalogue.text(name)?, change)?)
    }

    fn copies(&self) -> Result<Vec<(String, String)>, ApiError> {
        let copies = self.values("copy");
        if copies.len() > MAX_PLANS {
            return Err(ApiError::bad_request(format!("at most {MAX_PLANS} plans can be copied")));
        }
        let pair = |copy: String| {
            let (from, to) = copy.split_once(':')?;
            Some((from.to_owned(), to.to_owned()))
        };
        copies
            .into_iter()
            .map(|copy| {
                pair(copy).ok_or_else(|| ApiError::bad_request("write a copy as PLAN:NEW-NAME"))
            })
            .collect()
    }

    /// The scenario to fish, with the changes of the page; refused if it is too large.
    pub(super) fn scenario(&self, catalogue: &Catalogue) -> Result<Scenario, ApiError> {
        let mut scenario = self.edited_text(catalogue, true)?.read(&[])?;
        scenario.plans.truncate(MAX_PLANS);
        check_size(&scenario)?;
        Ok(scenario)
    }

    /// The same scenario with all its plans.
    pub(super) fn whole_scenario(&self, catalogue: &Catalogue) -> Result<Scenario, ApiError> {
        let scenario = self.edited_text(catalogue, false)?.read(&[])?;
        check_size(&scenario)?;
        Ok(scenario)
    }
}

/// Refuses a scenario that would take the page too long; the command line has no such limits.
fn check_size(scenario: &Scenario) -> Result<(), ApiError> {
    if scenario.session_s > MAX_SESSION_S {
        return Err(ApiError::bad_request(
            "the page fishes sessions of up to 12 h; use the command line for longer ones",
        ));
    }
    let fish: f64 = scenario.shoals.iter().map(|shoal| shoal.mean_number()).sum();
    if fish > MAX_FISH {
        return Err(ApiError::bad_request(format!(
            "the page allows up to {MAX_FISH} fish in reach; use the command line for more"
        )));
    }
    Ok(())
}
