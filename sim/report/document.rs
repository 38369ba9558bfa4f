//! A comparison as the document that is written as JSON.

use serde::Serialize;

use super::text::warning_text;
use crate::scenario::Units;
use crate::study::{Comparison, Warning};

/// A comparison with its warnings in words, in the shape in which it is written as JSON.
#[derive(Clone, Debug, Serialize)]
pub struct ComparisonDocument<'a> {
    #[serde(flatten)]
    comparison: &'a Comparison,
    warnings: Vec<WarningEntry>,
}

/// A warning in the document.
#[derive(Clone, Debug, Serialize)]
struct WarningEntry {
    kind: &'static str,
    #[serde(rename = "says")]
    sentence: String,
}

impl<'a> ComparisonDocument<'a> {
    /// The document of a comparison; `units` are those of the sentences, while all figures are in SI units.
    #[must_use]
    pub fn new(comparison: &'a Comparison, units: Units) -> Self {
        let entry = |warning: &Warning| WarningEntry {
            kind: warning.kind(),
            sentence: warning_text(warning, units),
        };
        Self { comparison, warnings: comparison.warnings.iter().map(entry).collect() }
    }
}
