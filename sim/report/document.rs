//! Comparisons as the documents that are written as JSON.

use schemars::JsonSchema;
use serde::Serialize;

use super::text::warning_text;
use crate::scenario::{Scenario, Units};
use crate::study::{Comparison, MODEL_VERSION, Warning, WatersComparison};

/// A comparison with its warnings in words, in the shape in which it is written as JSON.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ComparisonDocument<'a> {
    #[serde(flatten)]
    comparison: &'a Comparison,
    /// What the reader should know.
    warnings: Vec<WarningEntry>,
    /// The settings of the run, apart from seed, days and plans.
    made_with: MadeWith<'a>,
}

/// The settings with which a comparison was made.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct MadeWith<'a> {
    /// Values given with `--set`, in order, as `KEY=VALUE`.
    sets: &'a [String],
    /// Whether `--fixed-days` was given: all days are the same.
    fixed_days: bool,
    /// Units of the text, pages and pictures of the run: `metric` or `imperial`. All figures of this document are metric.
    units: &'static str,
    /// SHA-256 of the scenario file, as `sha256sum` prints it.
    file_sha256: String,
    /// A number that is raised with every change of the model that moves results.
    model_version: u32,
}

/// A warning in the document.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct WarningEntry {
    /// Which warning it is.
    kind: &'static str,
    /// The warning in words.
    #[serde(rename = "says")]
    sentence: String,
}

impl<'a> ComparisonDocument<'a> {
    /// The document of a comparison of a scenario's plans; `units` are those in which the run shows its results, while
    /// all figures and sentences of the document are metric.
    pub fn new(comparison: &'a Comparison, scenario: &'a Scenario, units: Units) -> Self {
        let made_with = MadeWith {
            sets: &scenario.written.sets,
            fixed_days: scenario.fixed_days,
            units: units.name(),
            file_sha256: scenario.written.file_sha256(),
            model_version: MODEL_VERSION,
        };
        let warnings = warnings(comparison, Units::Metric);
        Self { comparison, warnings, made_with }
    }

    /// The same document with its sentences in these units.
    #[must_use]
    pub fn with_words_in(self, units: Units) -> Self {
        Self { warnings: warnings(self.comparison, units), ..self }
    }
}

fn warnings(comparison: &Comparison, units: Units) -> Vec<WarningEntry> {
    let entry = |warning: &Warning| WarningEntry {
        kind: warning.kind(),
        sentence: warning_text(warning, units),
    };
    comparison.warnings.iter().map(entry).collect()
}

/// A comparison across waters in the shape in which it is written as JSON: each water is a [`ComparisonDocument`].
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct WatersDocument<'a> {
    #[serde(flatten)]
    comparison: &'a WatersComparison,
    /// Each water by itself, in the order given.
    waters: Vec<ComparisonDocument<'a>>,
}

impl<'a> WatersDocument<'a> {
    /// The document of a comparison across waters; `scenarios` are those that were compared, in the same order, and
    /// `units` those in which the run shows its results, while all figures and sentences of the document are metric.
    pub fn new(comparison: &'a WatersComparison, scenarios: &'a [Scenario], units: Units) -> Self {
        let waters = comparison.waters.iter().zip(scenarios);
        Self {
            comparison,
            waters: waters
                .map(|(water, scenario)| ComparisonDocument::new(water, scenario, units))
                .collect(),
        }
    }
}
