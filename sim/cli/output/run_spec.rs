//! The specification of a run, by which its folder recognises an earlier run of the same kind.

use super::run_origin::RunOrigin;
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
