//! How a run was asked for: the scenario as written, the values changed, and a script that does it again.

use super::again::again_script;
use crate::scenario::{Scenario, Units};

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
}

impl RunOrigin {
    /// How the running program was asked for its results on a scenario.
    #[must_use]
    pub fn new(scenario: &Scenario, units: Units) -> Self {
        let written = &scenario.written;
        Self {
            sets: written.sets.clone(),
            fixed_days: scenario.fixed_days,
            units: Some(units),
            scenario_text: written.text.clone(),
            file_sha256: Some(written.file_sha256()),
            again: again_script(Some(scenario)),
        }
    }

    /// How the running program was asked for a result that needs no scenario.
    #[must_use]
    pub fn without_scenario(units: Units) -> Self {
        Self { units: Some(units), again: again_script(None), ..Self::default() }
    }

    /// What differs from the scenario file, in words. `None` if nothing does.
    #[must_use]
    pub fn changes(&self) -> Option<String> {
        let sets = self.sets.iter().map(|set| format!("--set {set}"));
        let all: Vec<String> =
            sets.chain(self.fixed_days.then(|| "--fixed-days".to_owned())).collect();
        (!all.is_empty()).then(|| format!("The scenario with {}.", all.join(", ")))
    }
}
