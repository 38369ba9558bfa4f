//! The model behind the page that is one file: the same answers as over HTTP, and days that several workers share.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use serde::{Deserialize, Serialize};
use serde_json::{Value, json};

use super::answers;
use super::bank::bank_log;
use super::catalogue::Catalogue;
use super::error::ApiError;
use super::growing::{ComparisonRequest, GrowingComparison};
use super::now::AdviceRequest;
use super::request::RequestQuery;
use crate::scenario::ScenarioSource;
use crate::study::{Control, DayOutcomes, SessionsCsv, replicate};

/// A scenario as the file of the page holds it.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub(super) struct ShelvedScenario {
    pub(super) name: String,
    pub(super) text: String,
    /// The weigh-ins of a file that it names.
    pub(super) weigh_ins: Option<String>,
    /// Its lessons, as text.
    pub(super) lessons: Option<String>,
}

/// Answers the requests of a page that has no server.
///
/// Each worker of the page has one. They share the days of a comparison: any of them fishes a day, and one adds up all
/// days in order, so that the results are the same to the last bit as on the command line.
///
/// ```
/// let mut model = sim::web::PageModel::new("[]");
/// let shelf = model.answer("shelf", "", "").expect("a list of scenarios");
/// assert!(String::from_utf8_lossy(&shelf).contains("tern-bar"));
/// let wrong = model.answer("film", "scenario=nowhere", "").expect_err("there is no such water");
/// assert!(String::from_utf8_lossy(&wrong).contains("no scenario has that name"));
/// ```
pub struct PageModel {
    catalogue: Catalogue,
    /// The comparison whose days are fished here, and the query that asked for it.
    fishing: Option<(String, Arc<ComparisonRequest>)>,
    /// The comparison whose days are added up here.
    growing: Option<GrowingComparison>,
}

impl PageModel {
    /// The built-in scenarios, and those of `shelf`: a JSON list of objects with name, text, weigh-ins and lessons.
    ///
    /// A list that cannot be read counts as empty.
    #[must_use]
    pub fn new(shelf: &str) -> Self {
        let shelved: Vec<ShelvedScenario> = serde_json::from_str(shelf).unwrap_or_default();
        let sources = shelved.into_iter().map(|shelved| {
            let ShelvedScenario { name, text, weigh_ins, lessons } = shelved;
            (ScenarioSource::from_stored(text, name, weigh_ins), lessons)
        });
        let catalogue = Catalogue::from_sources(sources.collect());
        Self { catalogue, fishing: None, growing: None }
    }

    /// The answer to a request: a document, or what is wrong.
    ///
    /// `shelf`, `lessons`, `bank`, `scenario`, `film` and `export` answer as over HTTP. `begin` starts to add up a comparison, `day`
    /// fishes one of its days, `add` adds the day in `body`, and `results` are those so far. `sessions` is the table
    /// of all its days. `now` says how many sessions advice takes in its first round and in all, `rests` simulates some of
    /// them, those of the second round from all of the first, and `advice` puts them together.
    ///
    /// # Errors
    ///
    /// A JSON document that says what is wrong.
    pub fn answer(&mut self, name: &str, query: &str, body: &str) -> Result<Vec<u8>, Vec<u8>> {
        self.answered(name, query, body).map_err(|error| error.document().to_string().into_bytes())
    }

    fn answered(&mut self, name: &str, query: &str, body: &str) -> Result<Vec<u8>, ApiError> {
        let parsed = RequestQuery::parse(Some(query))?;
        let document = |value: Value| value.to_string().into_bytes();
        match name {
            "shelf" => Ok(document(answers::shelf(&self.catalogue))),
            "bank" => bank_log(&parsed, body).map(document),
            "lessons" => Ok(document(answers::lessons(&self.catalogue))),
            "scenario" => answers::scenario(&self.catalogue, &parsed).map(document),
            "film" => answers::film(&self.catalogue, &parsed, &AtomicBool::new(false)),
            "export" => {
                let edited = parsed.edited_text(&self.catalogue, true)?;
                Ok(edited.text.into_bytes())
            }
            "now" => self.advice_request(&parsed, body)?.sessions().map(document),
            "rests" => {
                let (from, to) = parsed.session_range()?;
                self.advice_request(&parsed, body)?.simulated(from, to).map(document)
            }
            "advice" => self.advice_request(&parsed, body)?.put_together().map(document),
            "begin" => {
                let request = Arc::new(answers::comparison_request(&self.catalogue, &parsed)?);
                let growing = GrowingComparison::new(Arc::clone(&request));
                let until = growing.next_report();
                self.growing = Some(growing);
                Ok(document(json!({ "days": request.days, "until": until })))
            }
            "day" => {
                let request = self.request(query, &parsed)?;
                fish(&request, parsed.day()?, encoded)
            }
            "add" => {
                let day: DayOutcomes = serde_json::from_str(body)
                    .map_err(|error| ApiError::bad_request(format!("no day: {error}")))?;
                let growing = self.growing.as_mut().ok_or_else(not_begun)?;
                growing.add(&day);
                Ok(document(json!({ "until": growing.next_report() })))
            }
            "results" => Ok(document(self.growing.as_ref().ok_or_else(not_begun)?.results())),
            "sessions" => sessions(&*self.request(query, &parsed)?),
            _ => Err(ApiError::not_found("no such request")),
        }
    }

    fn advice_request(&self, parsed: &RequestQuery, body: &str) -> Result<AdviceRequest, ApiError> {
        AdviceRequest::new(&self.catalogue, parsed, body)
    }

    /// The comparison that a query asks for; it is read once for all its days.
    fn request(
        &mut self,
        query: &str,
        parsed: &RequestQuery,
    ) -> Result<Arc<ComparisonRequest>, ApiError> {
        // The number of the day stands first, and is no part of the comparison.
        let comparison = query.split_once('&').map_or(query, |(_, rest)| rest);
        if let Some((known, request)) = &self.fishing
            && known == comparison
        {
            return Ok(Arc::clone(request));
        }
        let request = Arc::new(answers::comparison_request(&self.catalogue, parsed)?);
        self.fishing = Some((comparison.to_owned(), Arc::clone(&request)));
        Ok(request)
    }
}

fn not_begun() -> ApiError {
    ApiError::bad_request("no comparison has begun")
}

fn encoded(day: &DayOutcomes) -> Result<Vec<u8>, ApiError> {
    serde_json::to_vec(day).map_err(|_| ApiError::not_found("the day cannot be encoded"))
}

/// Fishes one day with every plan.
fn fish(
    request: &ComparisonRequest,
    number: u32,
    encode: impl Fn(&DayOutcomes) -> Result<Vec<u8>, ApiError>,
) -> Result<Vec<u8>, ApiError> {
    let mut written = Vec::new();
    replicate(&request.scenario, request.seed, number..=number, Control::default(), |day| {
        written = encode(day)?;
        Ok::<(), ApiError>(())
    })?;
    Ok(written)
}

/// `sessions.csv` of a comparison.
fn sessions(request: &ComparisonRequest) -> Result<Vec<u8>, ApiError> {
    let unwritten = |error: csv::Error| ApiError::bad_request(error.to_string());
    let ComparisonRequest { scenario, seed, days, .. } = request;
    let mut rows = SessionsCsv::new(Vec::new(), scenario).map_err(unwritten)?;
    replicate(scenario, *seed, 1..=*days, Control::default(), |day| {
        rows.write(scenario, day).map_err(unwritten)
    })?;
    rows.finish().map_err(|error| ApiError::bad_request(error.to_string()))
}

#[cfg(test)]
mod tests {
    use super::*;

    const QUERY: &str = "scenario=first-try&run=r&seed=5&days=12";

    fn text(answer: Result<Vec<u8>, Vec<u8>>) -> String {
        String::from_utf8(answer.expect("an answer")).expect("text")
    }

    #[test]
    fn days_that_others_fished_add_up_to_the_same_results() {
        let (mut desk, mut others) = (PageModel::new("[]"), [0, 1].map(|_| PageModel::new("[]")));
        text(desk.answer("begin", QUERY, ""));
        let mut alone = PageModel::new("[]");
        text(alone.answer("begin", QUERY, ""));
        for day in 1..=12 {
            let query = format!("day={day}&{QUERY}");
            let fished = text(others[day % 2].answer("day", &query, ""));
            text(desk.answer("add", "", &fished));
            let own = text(alone.answer("day", &query, ""));
            text(alone.answer("add", "", &own));
        }
        let results = text(desk.answer("results", "", ""));
        assert_eq!(results, text(alone.answer("results", "", "")));
        assert!(results.contains("\"days\":12"), "{results}");
    }

    #[test]
    fn a_shelved_scenario_comes_with_its_weigh_ins() {
        let scenario = include_str!("../../scenarios/first-try.toml");
        let shelf =
            json!([{ "name": "own-water", "text": scenario, "weigh_ins": null, "lessons": null }]);
        let mut model = PageModel::new(&shelf.to_string());
        assert!(text(model.answer("shelf", "", "")).contains("own-water"));
        let rows = text(model.answer("sessions", "day=1&scenario=own-water&run=r&days=2", ""));
        let same = text(model.answer("sessions", "day=1&scenario=first-try&run=r&days=2", ""));
        assert!(rows.lines().count() > 4 && rows == same, "{rows}");
    }

    #[test]
    fn wrong_requests_are_refused_in_words() {
        let mut model = PageModel::new("no list");
        for (name, query, body, word) in [
            ("nothing", "", "", "no such request"),
            ("add", "", "{}", "no day"),
            ("results", "", "", "no comparison has begun"),
            ("day", "day=0&scenario=first-try&run=r", "", "no whole number"),
            ("begin", "scenario=first-try&run=r&set=plan.x.recast=1", "", "fault"),
        ] {
            let wrong = model.answer(name, query, body).expect_err(name);
            let wrong = String::from_utf8(wrong).expect("text");
            assert!(wrong.contains(word), "{name}: {wrong}");
        }
    }
}
