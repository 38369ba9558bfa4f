//! Advice during a session on the page: from the log that was tapped in, on the scenario as the page has it.

use std::sync::atomic::AtomicBool;

use serde::Deserialize;
use serde_json::{Value, json};

use super::catalogue::Catalogue;
use super::error::ApiError;
use super::request::RequestQuery;
use crate::angler::PlanId;
use crate::catch_log::{CatchLog, read_catch_log};
use crate::report::{now_words, session_over};
use crate::scenario::{Scenario, Units, quoted, read_learned_book};
use crate::study::{
    Control, LoggedPlan, NoProgress, NowError, NowResult, NowSpec, NowStudy, SimulatedRest,
    last_time_s, logged_plans, now,
};

/// Sessions that are simulated up to now, as many as the command simulates.
const SESSIONS: u32 = 400;
/// Largest number of casts of a log on which the page advises.
const MAX_CASTS: usize = 1_000;
/// Name of the log in faults.
const LOG: &str = "this log";

/// What the page sends.
#[derive(Deserialize)]
struct SentLog {
    /// The log as text.
    log: String,
    /// A learned book as text. `None` without one.
    #[serde(default)]
    book: Option<String>,
    /// Sessions that were simulated before; only for the second round and the last step of a page without a server.
    #[serde(default)]
    rests: Vec<SimulatedRest>,
}

/// A request for advice, read and checked.
pub(super) struct AdviceRequest {
    scenario: Scenario,
    plan: PlanId,
    log: CatchLog,
    past: LoggedPlan,
    clock_s: f64,
    seed: u64,
    units: Units,
    rests: Vec<SimulatedRest>,
}

impl AdviceRequest {
    /// Reads the scenario, the plan and the time of a query, and the log in its body.
    pub(super) fn new(
        catalogue: &Catalogue,
        query: &RequestQuery,
        body: &str,
    ) -> Result<Self, ApiError> {
        let SentLog { log, book, rests } = serde_json::from_str(body)
            .map_err(|error| ApiError::bad_request(format!("no log was sent: {error}")))?;
        let mut scenario = query.whole_scenario(catalogue)?;
        if let Some(book) = book {
            let book = read_learned_book(&book, "the learned book", &scenario)
                .map_err(|faults| ApiError::from_faults("the learned book", &faults))?;
            scenario.lay_over(book);
        }
        let wanted = query.required("plan")?;
        let plan = scenario.plans.iter().position(|plan| plan.name == wanted);
        let plan = plan.map(PlanId).ok_or_else(|| {
            ApiError::bad_request(format!("{} has no plan {}", scenario.name, quoted(wanted)))
        })?;
        let in_log = |faults| ApiError::from_faults("the log", &faults);
        let log = read_catch_log(&log, "log", LOG).map_err(in_log)?;
        if log.casts().count() > MAX_CASTS {
            let message =
                format!("the log has more than {MAX_CASTS} casts; the page advises on one day's");
            return Err(ApiError::bad_request(message));
        }
        let past = logged_plans(&log, LOG, &scenario).map_err(in_log)?.pop();
        let past = past.ok_or_else(|| ApiError::bad_request("there is no cast in the log"))?;
        let clock_s = query.time_s("at")?.unwrap_or_else(|| last_time_s(&log)).max(past.start_s);
        let (seed, units) = (query.seed()?, query.units(scenario.units)?);
        Ok(Self { scenario, plan, log, past, clock_s, seed, units, rests })
    }

    fn spec(&self) -> NowSpec<'_> {
        NowSpec {
            scenario: &self.scenario,
            plan: self.plan,
            log: &self.log,
            past: &self.past,
            clock_s: self.clock_s,
            seed: self.seed,
            sessions: SESSIONS,
        }
    }

    /// The advice, with all its sessions simulated here; it stops when `gone` is set.
    #[cfg_attr(not(feature = "program"), expect(dead_code, reason = "workers share the sessions"))]
    pub(super) fn advice(&self, gone: &AtomicBool) -> Result<Value, ApiError> {
        let control = Control { progress: &NoProgress, stop: gone };
        let result = now(&self.spec(), control).map_err(|error| self.refusal(&error))?;
        Ok(self.document(&result))
    }

    /// How many sessions there are to simulate in the first round and in all, or why there is no advice.
    pub(super) fn sessions(&self) -> Result<Value, ApiError> {
        let study = NowStudy::new(&self.spec()).map_err(|error| self.refusal(&error))?;
        Ok(json!({ "first": study.first_sessions(), "sessions": SESSIONS }))
    }

    /// Some of the sessions, for the page to put together with those of other workers; for those of the second round, all of the
    /// first one were sent.
    pub(super) fn simulated(&self, from: u32, to: u32) -> Result<Value, ApiError> {
        let study = NowStudy::new(&self.spec()).map_err(|error| self.refusal(&error))?;
        let ways = if to <= study.first_sessions() {
            study.every_way()
        } else if from > study.first_sessions() && study.fits(&self.rests) {
            study.contenders(&self.rests[..study.first_sessions() as usize])
        } else {
            return Err(not_these());
        };
        let rests: Option<Vec<SimulatedRest>> = (from..=to.min(SESSIONS))
            .map(|number| study.rest(number, &ways, Control::default()))
            .collect();
        Ok(json!(rests.unwrap_or_default()))
    }

    /// The advice from the sessions that were sent.
    pub(super) fn put_together(&self) -> Result<Value, ApiError> {
        let study = NowStudy::new(&self.spec()).map_err(|error| self.refusal(&error))?;
        if self.rests.len() != SESSIONS as usize || !study.fits(&self.rests) {
            return Err(not_these());
        }
        Ok(self.document(&study.advice(&self.rests)))
    }

    fn refusal(&self, error: &NowError) -> ApiError {
        match *error {
            NowError::Over { length_s, at_s } => {
                ApiError::bad_request(session_over(&self.scenario.name, length_s, at_s))
            }
            NowError::Interrupted => ApiError::bad_request("the page went away"),
        }
    }

    fn document(&self, result: &NowResult) -> Value {
        let has_book = self.scenario.learned.is_some();
        json!({ "words": now_words(result, self.units), "result": result, "has_book": has_book })
    }
}

fn not_these() -> ApiError {
    ApiError::bad_request("these are not the sessions of this request")
}
