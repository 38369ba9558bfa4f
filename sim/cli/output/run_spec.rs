//! The specification of a run, by which its folder recognises an earlier run of the same kind.

use super::run_origin::RunOrigin;
use crate::cli::scenario::plan_names;
use crate::scenario::{Scenario, Units};
use crate::study::Stamp;

/// Specification of a run. Two runs with the same specification write the same files.
#[derive(Clone, Debug, PartialEq)]
pub struct RunSpec {
    /// Name of the command.
    pub command: &'static str,
    /// Version, commit, seed, scenario.
    pub stamp: Stamp,
    /// Plans fished, in order.
    pub plans: Vec<String>,
    /// Varied keys and further options that change the result, as written.
    pub result_options: Vec<String>,
    /// Number of days fished.
    pub days: u32,
    /// The options and the scenario text with which the run was made.
    pub origin: RunOrigin,
}

impl RunSpec {
    /// A run of `command` that fishes all plans of the scenario and varies nothing.
    pub(in crate::cli) fn new(
        command: &'static str,
        scenario: &Scenario,
        seed: u64,
        days: u32,
        units: Units,
    ) -> Self {
        Self {
            command,
            stamp: Stamp::from_scenario(scenario, seed),
            plans: plan_names(scenario),
            result_options: Vec::new(),
            days,
            origin: RunOrigin::new(scenario, units),
        }
    }
}
