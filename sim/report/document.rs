//! Comparisons as the documents that are written as JSON.

use serde::Serialize;

use super::text::warning_text;
use crate::scenario::Units;
use crate::study::{Comparison, Warning, WatersComparison};

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

/// A comparison across waters in the shape in which it is written as JSON: each water is a [`ComparisonDocument`].
#[derive(Clone, Debug, Serialize)]
pub struct WatersDocument<'a> {
    #[serde(flatten)]
    comparison: &'a WatersComparison,
    waters: Vec<ComparisonDocument<'a>>,
}

impl<'a> WatersDocument<'a> {
    /// The document of a comparison across waters; `units` are those of the sentences, while all figures are in SI units.
    #[must_use]
    pub fn new(comparison: &'a WatersComparison, units: Units) -> Self {
        let waters = comparison.waters.iter();
        Self {
            comparison,
            waters: waters.map(|water| ComparisonDocument::new(water, units)).collect(),
        }
    }
}
