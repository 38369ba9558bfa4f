//! Origin of a result.

use schemars::JsonSchema;
use serde::Serialize;

use crate::scenario::Scenario;
/// Version of the model: raised by one with every change that moves results. Two programs with the same number give the
/// same figures.
pub const MODEL_VERSION: u32 = 5;

/// Whether the program was built from a source that differs from its commit.
pub const IS_DIRTY_BUILD: bool = matches!(env!("SHOALWISE_DIRTY").as_bytes(), b"true");

/// Everything that is needed to reproduce a result.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Stamp {
    /// Version of the program.
    pub version: String,
    /// Commit from which the program was built.
    pub commit: String,
    /// Seed of all random numbers.
    pub seed: u64,
    /// Name of the scenario.
    pub scenario: String,
    /// SHA-256 of the scenario as read, with the values set on the command line.
    pub scenario_sha256: String,
    /// SHA-256 of the learned book that was laid over the parameters, if one was.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub book_sha256: Option<String>,
    /// Kind of machine for which the program was built.
    pub target: String,
}

impl Stamp {
    /// Stamp of this program for a scenario and seed.
    #[must_use]
    pub fn new(scenario: &str, scenario_sha256: &str, seed: u64) -> Self {
        Self {
            version: env!("CARGO_PKG_VERSION").to_owned(),
            commit: env!("SHOALWISE_COMMIT").to_owned(),
            seed,
            scenario: scenario.to_owned(),
            scenario_sha256: scenario_sha256.to_owned(),
            book_sha256: None,
            target: env!("SHOALWISE_TARGET").to_owned(),
        }
    }

    /// Stamp of this program for a scenario with the book laid over it, if any, and a seed.
    #[must_use]
    pub fn from_scenario(scenario: &Scenario, seed: u64) -> Self {
        let book_sha256 = scenario.learned.as_ref().map(|book| book.sha256.clone());
        Self { book_sha256, ..Self::new(&scenario.name, &scenario.sha256, seed) }
    }
}
