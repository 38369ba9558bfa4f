//! The document of `learn --scenario`.

use schemars::JsonSchema;
use serde::Serialize;

use crate::study::{FitResult, NextResult};

/// What the simulator learnt from a log, and what to try next if that was asked.
#[derive(Debug, Serialize, JsonSchema)]
pub(in crate::cli) struct FitDocument<'a> {
    #[serde(flatten)]
    pub(in crate::cli) fit: &'a FitResult,
    /// Which practice would teach most; only with `--next`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(in crate::cli) next: Option<&'a NextResult>,
}
