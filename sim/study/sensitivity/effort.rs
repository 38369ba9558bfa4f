//! Effort of a sensitivity analysis: how much is fished for each of its parts.

use super::variance::SESSIONS_PER_BLOCK;
use crate::scenario::{Alternative, Scenario};

/// Replicates at each point: days that the points to be compared share.
pub(super) const REPLICATES: u32 = 4;
/// Maximum number of influential inputs that are examined closely.
pub(super) const MAX_INFLUENTIAL: usize = 6;
/// Quantiles of an input at which the difference is profiled; the first and the last enclose 95 % of its prior.
pub(super) const QUANTILES: [f64; 9] = [0.025, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9, 0.975];

/// How much is fished.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Trajectories of the screening, on each of which every input is moved once.
    pub trajectories: u32,
    /// Rows of the design for the sensitivity indices; a power of two.
    pub rows: u32,
    /// Days at each point of a profile, without each mechanism of the model, and with each alternative.
    pub profile_days: u32,
    /// Blocks for the variance components.
    pub blocks: u32,
}

impl Effort {
    /// Effort that suits a comparison on `days` days: for 400 days, 20 trajectories, 128 rows, 100 days and 150 blocks.
    #[must_use]
    pub fn for_days(days: u32) -> Self {
        Self {
            trajectories: (days / 20).max(2),
            rows: (days / 3).max(4).next_power_of_two() / 2 * if days < 12 { 2 } else { 1 },
            profile_days: (days / 4).max(2),
            blocks: (3 * days / 8).max(2),
        }
    }

    /// Number of sessions for a scenario.
    #[must_use]
    pub fn sessions(&self, scenario: &Scenario) -> u64 {
        let inputs = scenario.inputs_that_matter().len();
        let (inputs, influential) = (inputs as u64, inputs.min(MAX_INFLUENTIAL) as u64);
        let structures = scenario.mechanisms().count() + Alternative::ALL.len();
        let replicates = u64::from(REPLICATES);
        let screening = u64::from(self.trajectories) * (inputs + 1) * replicates;
        let indices = u64::from(self.rows) * (influential + 2) * replicates;
        let held = influential * QUANTILES.len() as u64 + structures as u64;
        let profiles = u64::from(self.profile_days) * (held + 1);
        2 * (screening + indices + profiles) + u64::from(self.blocks) * SESSIONS_PER_BLOCK
    }
}
