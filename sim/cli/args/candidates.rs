//! What a shell offers for plans and keys: those of the scenario that stands on the line.

use std::path::Path;

use clap_complete::CompletionCandidate;

use crate::scenario::{ScenarioSource, controls, load};

/// Names of the plans of the scenario that the command line names.
pub(super) fn plan_candidates() -> Vec<CompletionCandidate> {
    let scenario = scenario_on_line().and_then(|path| load(Path::new(&path), &[]).ok());
    let plans = scenario.map_or_else(Vec::new, |scenario| scenario.plans);
    plans.into_iter().map(|plan| CompletionCandidate::new(plan.name)).collect()
}

/// Keys of the scenario that the command line names, each with an equals sign.
pub(super) fn key_candidates() -> Vec<CompletionCandidate> {
    let written = scenario_on_line().and_then(|path| ScenarioSource::open(Path::new(&path)).ok());
    let controls = written.and_then(|written| controls(&written).ok()).unwrap_or_default();
    let candidate = |key: String| CompletionCandidate::new(format!("{key}="));
    controls.into_iter().map(|control| candidate(control.key)).collect()
}

/// The first word of the command line that names a scenario file.
fn scenario_on_line() -> Option<String> {
    std::env::args().find(|word| word.ends_with(".toml") && Path::new(word).is_file())
}
