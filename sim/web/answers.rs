//! The answers to the page's requests, the same over HTTP and in the page that is one file.

use std::sync::atomic::AtomicBool;

use serde_json::{Value, json};

use super::catalogue::Catalogue;
use super::error::ApiError;
use super::growing::ComparisonRequest;
use super::replay::replay_document;
use super::request::{MAX_DAYS, MAX_PLANS, RequestQuery};
use crate::scenario::{Scenario, ScenarioControl, Units, controls};
use crate::session::{Day, record_session_unless};

/// Maximum number of rows in the recording of one day.
const MAX_RECORDING_ROWS: usize = 300_000;

/// Names of the scenarios, and the limits of the page.
pub(super) fn shelf(catalogue: &Catalogue) -> Value {
    json!({
        "version": env!("CARGO_PKG_VERSION"),
        "scenarios": catalogue.names(),
        "most_plans": MAX_PLANS,
        "most_days": MAX_DAYS,
    })
}

/// The scenario with its plans, lines and controls.
pub(super) fn scenario(catalogue: &Catalogue, query: &RequestQuery) -> Result<Value, ApiError> {
    let edited = query.edited_text(catalogue, false)?;
    let unchanged = query.unchanged_text(catalogue)?;
    let scenario = edited.read(&[])?;
    // The edited text has lost the range of a value that was set; the unchanged text still offers it.
    let of_plans = controls(&edited)?.into_iter().filter(|control| control.plan.is_some());
    let of_water = controls(&unchanged)?.into_iter().filter(|control| control.plan.is_none());
    let controls: Vec<Value> =
        of_plans.chain(of_water).map(|control| control_document(&control)).collect();
    Ok(scenario_document(&edited.name, &scenario, controls))
}

/// A scenario as JSON.
fn scenario_document(name: &str, scenario: &Scenario, controls: Vec<Value>) -> Value {
    json!({
        "name": name,
        "title": scenario.title,
        "units": match scenario.units { Units::Metric => "metric", Units::Imperial => "imperial" },
        "session_s": scenario.session_s,
        "plans": scenario.plans.iter().map(|plan| &plan.name).collect::<Vec<_>>(),
        "lines": scenario.lines.iter().map(|line| &line.name).collect::<Vec<_>>(),
        "dials": controls,
    })
}

/// A control of the page as JSON.
fn control_document(control: &ScenarioControl) -> Value {
    let stops = control
        .choices
        .iter()
        .map(|choice| json!({ "written": choice.written, "shown": choice.shown }));
    json!({
        "plan": control.plan,
        "key": control.key,
        "name": control.name,
        "says": control.description,
        "ordered": control.is_ordered,
        "stops": stops.collect::<Vec<_>>(),
        "at": control.selected,
    })
}

/// The comparison that a query asks for.
pub(super) fn comparison_request(
    catalogue: &Catalogue,
    query: &RequestQuery,
) -> Result<ComparisonRequest, ApiError> {
    let run = query.required("run")?.to_owned();
    let scenario = query.scenario(catalogue)?;
    let units = query.units(scenario.units)?;
    Ok(ComparisonRequest { run, seed: query.seed()?, days: query.days()?, scenario, units })
}

/// The recording of one session, for the moving picture, as JSON; its making stops when `gone` is set.
pub(super) fn film(
    catalogue: &Catalogue,
    query: &RequestQuery,
    gone: &AtomicBool,
) -> Result<Vec<u8>, ApiError> {
    let scenario = query.scenario(catalogue)?;
    let units = query.units(scenario.units)?;
    let plan =
        scenario.plans.first().ok_or_else(|| ApiError::not_found("the scenario has no plan"))?;
    let day = Day::draw(&scenario, query.seed()?, query.day()?);
    let recording = record_session_unless(&scenario, plan, &day, MAX_RECORDING_ROWS, gone)
        .ok_or_else(|| {
            ApiError::bad_request(
                "too much happens on this day to be shown; choose a shorter session",
            )
        })?;
    let replay = replay_document(&scenario, plan, &day, &recording, units);
    serde_json::to_vec(&replay).map_err(|_| ApiError::not_found("the day cannot be encoded"))
}
