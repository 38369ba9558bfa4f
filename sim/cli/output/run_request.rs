//! The specification of a run that fishes all plans.

use super::run_origin::RunOrigin;
use super::run_spec::RunSpec;
use crate::cli::scenario::plan_names;
use crate::scenario::{Scenario, Units};
use crate::study::Stamp;

/// Describes a run of `command` that fishes all plans of the scenario and varies nothing.
pub(in crate::cli) fn run_request(
    command: &'static str,
    scenario: &Scenario,
    seed: u64,
    days: u32,
    units: Units,
) -> RunSpec {
    RunSpec {
        command,
        stamp: Stamp::from_scenario(scenario, seed),
        plans: plan_names(scenario),
        result_options: Vec::new(),
        days,
        origin: RunOrigin::new(scenario, units),
    }
}
