//! How a run was asked for: the scenario as written, the values changed, and a script that does it again.

use schemars::JsonSchema;
use serde::Serialize;

use super::again::again_script;
use crate::scenario::{Scenario, Units};
use crate::study::Stamp;

/// How a run was asked for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct RunOrigin {
    /// Values that override those of the scenario, as `KEY=VALUE`.
    pub sets: Vec<String>,
    /// Whether all days are the same.
    pub fixed_days: bool,
    /// Units in which pages, pictures and text show weights. `None` if the command has none.
    pub units: Option<Units>,
    /// Text of the scenario file.
    pub scenario_text: String,
    /// SHA-256 of the scenario file. `None` without a file.
    pub file_sha256: Option<String>,
    /// A shell script that makes the same files again. `None` without arguments.
    pub again: Option<String>,
    /// Each of several waters; empty for a run on one scenario.
    pub waters: Vec<WaterOrigin>,
}

/// One of several waters of a run.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct WaterOrigin {
    /// Name of the scenario, its SHA-256 with all values set, and the seed of its days.
    pub stamp: Stamp,
    /// Text of the scenario file.
    pub scenario_text: String,
    /// SHA-256 of the scenario file, as `sha256sum` prints it.
    pub file_sha256: String,
}

impl RunOrigin {
    /// How the running program was asked for its results on a scenario.
    pub fn new(scenario: &Scenario, units: Units) -> Self {
        let written = &scenario.written;
        Self {
            sets: written.sets.clone(),
            fixed_days: scenario.fixed_days,
            units: Some(units),
            scenario_text: written.text.clone(),
            file_sha256: Some(written.file_sha256()),
            again: again_script(&[scenario]),
            waters: Vec::new(),
        }
    }

    /// How the running program was asked for a result that needs no scenario.
    pub fn without_scenario(units: Units) -> Self {
        Self { units: Some(units), again: again_script(&[]), ..Self::default() }
    }

    /// How the running program was asked for its results on several waters, each with the seed of its days.
    pub fn across_waters(waters: &[(&Scenario, u64)], sets: &[String], units: Units) -> Self {
        let scenarios: Vec<&Scenario> = waters.iter().map(|&(scenario, _)| scenario).collect();
        let water = |&(scenario, seed): &(&Scenario, u64)| WaterOrigin {
            stamp: Stamp::from_scenario(scenario, seed),
            scenario_text: scenario.written.text.clone(),
            file_sha256: scenario.written.file_sha256(),
        };
        Self {
            sets: sets.to_vec(),
            fixed_days: scenarios.iter().any(|scenario| scenario.fixed_days),
            units: Some(units),
            again: again_script(&scenarios),
            waters: waters.iter().map(water).collect(),
            ..Self::default()
        }
    }

    /// What differs from the scenario file, in words. `None` if nothing does.
    pub fn changes(&self) -> Option<String> {
        let sets = self.sets.iter().map(|set| format!("--set {set}"));
        let all: Vec<String> =
            sets.chain(self.fixed_days.then(|| "--fixed-days".to_owned())).collect();
        (!all.is_empty()).then(|| format!("The scenario with {}.", all.join(", ")))
    }
}
