//! Where a result came from.

use serde::Serialize;

/// What a result needs to be made again.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Stamp {
    /// Version of the program.
    pub version: String,
    /// Commit it was built from.
    pub commit: String,
    /// Seed.
    pub seed: u64,
    /// The scenario's name.
    pub scenario: String,
    /// SHA-256 of the scenario as read, with what was set.
    pub scenario_sha256: String,
    /// Machine kind it was built for.
    pub target: String,
}

impl Stamp {
    /// The stamp of this program for a scenario and seed.
    #[must_use]
    pub fn new(scenario: &str, scenario_sha256: &str, seed: u64) -> Self {
        Self {
            version: env!("CARGO_PKG_VERSION").to_owned(),
            commit: env!("SHOALWISE_COMMIT").to_owned(),
            seed,
            scenario: scenario.to_owned(),
            scenario_sha256: scenario_sha256.to_owned(),
            target: env!("SHOALWISE_TARGET").to_owned(),
        }
    }
}
