//! The answers to the page's requests, the same over HTTP and in the page that is one file.

use std::sync::atomic::AtomicBool;

use serde_json::{Value, json};

use super::catalogue::Catalogue;
use super::error::ApiError;
use super::growing::ComparisonRequest;
use super::request::{MAX_DAYS, MAX_PLANS, RequestQuery};
use crate::report::recording_document;
use crate::scenario::{Lesson, Scenario, ScenarioControl, Units, controls};
use crate::session::{Day, record_session_unless};

/// Maximum number of rows in the recording of one day.
const MAX_RECORDING_ROWS: usize = 300_000;

/// Names and titles of the scenarios, and the limits of the page.
pub(super) fn shelf(catalogue: &Catalogue) -> Value {
    let (names, titles): (Vec<String>, Vec<String>) = catalogue.titles().into_iter().unzip();
    json!({
        "version": env!("CARGO_PKG_VERSION"),
        "scenarios": names,
        "titles": titles,
        "most_plans": MAX_PLANS,
        "most_days": MAX_DAYS,
    })
}

/// Every lesson with the scenario that it belongs to, and the faults of files that could not be read.
pub(super) fn lessons(catalogue: &Catalogue) -> Value {
    let (mut lessons, mut faults) = (Vec::new(), Vec::new());
    for (scenario, read) in catalogue.lessons() {
        match read {
            Ok(read) => {
                lessons.extend(read.iter().map(|lesson| lesson_document(&scenario, lesson)))
            }
            Err(wrong) => faults.extend(wrong.reported().iter().map(ToString::to_string)),
        }
    }
    json!({ "lessons": lessons, "faults": faults })
}

/// A lesson as JSON.
fn lesson_document(scenario: &str, lesson: &Lesson) -> Value {
    let choices = lesson
        .choices
        .iter()
        .map(|choice| json!({ "name": choice.name, "plan": choice.plan, "sets": choice.sets }));
    json!({
        "scenario": scenario,
        "name": lesson.name,
        "title": lesson.title,
        "question": lesson.question,
        "look": lesson.look,
        "answer": lesson.answer,
        "choices": choices.collect::<Vec<_>>(),
    })
}

/// The scenario with its plans, lines and controls.
pub(super) fn scenario(catalogue: &Catalogue, query: &RequestQuery) -> Result<Value, ApiError> {
    let edited = query.edited_text(catalogue, false)?;
    let unchanged = query.unchanged_text(catalogue)?;
    let scenario = edited.read(&[])?;
    // The edited text has lost the range of a value that was set; the unchanged text still offers it.
    let of_file = controls(&unchanged)?;
    let of_plans = controls(&edited)?.into_iter().filter(|control| control.plan.is_some());
    let of_water = of_file.iter().filter(|control| control.plan.is_none()).cloned();
    let controls: Vec<Value> =
        of_plans.chain(of_water).map(|control| control_document(&control, &of_file)).collect();
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
        "baits": names_of_baits(scenario),
        "lines": scenario.lines.iter().map(|line| &line.name).collect::<Vec<_>>(),
        "dials": controls,
    })
}

/// Names of the hookbaits that the plans use.
fn names_of_baits(scenario: &Scenario) -> Vec<&str> {
    let mut names = Vec::new();
    for phase in scenario.plans.iter().flat_map(|plan| &plan.phases) {
        let hookbait = scenario.hookbaits[phase.tackle.hookbait].name.as_str();
        if !names.contains(&hookbait) {
            names.push(hookbait);
        }
    }
    names
}

/// A control of the page as JSON, with the value that the file has for it.
fn control_document(control: &ScenarioControl, of_file: &[ScenarioControl]) -> Value {
    let written = of_file.iter().find(|known| known.key == control.key);
    let written = written.map(|known| &known.choices[known.selected].shown);
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
        "file": written,
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
    let replay = recording_document(&scenario, plan, &day, &recording, units);
    serde_json::to_vec(&replay).map_err(|_| ApiError::not_found("the day cannot be encoded"))
}
