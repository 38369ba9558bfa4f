//! The document of `check`.

use schemars::JsonSchema;
use serde::Serialize;

use crate::scenario::{Diagnostic, Diagnostics, Lesson, Scenario, SourceLocation};

/// Whether a scenario is sound, and the lessons next to it.
#[derive(Debug, Serialize, JsonSchema)]
pub(in crate::cli) struct CheckDocument<'a> {
    /// Name and version of the format.
    format: &'static str,
    /// Whether scenario and lessons have no fault.
    is_sound: bool,
    /// The faults, in the order of the file.
    faults: Vec<FaultEntry<'a>>,
    #[serde(flatten)]
    content: Option<SoundScenario<'a>>,
}

/// What a sound scenario holds.
#[derive(Debug, Serialize, JsonSchema)]
struct SoundScenario<'a> {
    /// Name of the scenario; only if it is sound, as all fields below.
    scenario: &'a str,
    /// SHA-256 of the scenario as read.
    scenario_sha256: &'a str,
    /// Names of the lines.
    lines: Vec<&'a str>,
    /// Names of the shoals.
    shoals: Vec<&'a str>,
    /// Names of the plans.
    plans: Vec<&'a str>,
    /// Names of the lessons in the file next to the scenario; empty without such a file.
    lessons: Vec<&'a str>,
    /// Length of the session [s].
    session_s: f64,
    /// Amounts of bait that are not written as weights, once each, in order.
    measures: Vec<BaitMeasure>,
}

/// An amount of bait that is not written as a weight.
#[derive(Debug, Serialize, JsonSchema)]
pub(in crate::cli) struct BaitMeasure {
    /// The amount as written: `2 handfuls`.
    pub(in crate::cli) written: String,
    /// What it was taken to weigh [kg].
    pub(in crate::cli) kg: f64,
}

/// A fault of a scenario.
#[derive(Debug, Serialize, JsonSchema)]
struct FaultEntry<'a> {
    /// The file, or `--set`, `--vary` or `built-in baits`.
    #[serde(rename = "in")]
    place: &'a str,
    /// Line in the file, from 1. `None` if the fault has none.
    line: Option<usize>,
    /// Column in the line, from 1; for faults of syntax.
    column: Option<usize>,
    /// The dotted key; empty if the fault has none.
    key: &'a str,
    /// What is wrong.
    problem: &'a str,
    /// How to fix it, or what is allowed.
    fix: &'a str,
    /// The nearest known key or name, if one was unknown.
    nearest: Option<&'a str>,
}

impl<'a> CheckDocument<'a> {
    /// Name and version of the format.
    pub(super) const FORMAT: &'static str = "shoalwise/check/1";

    /// The document of a sound scenario with the lessons next to it; `measures` are its amounts of bait that are not
    /// written as weights.
    pub(in crate::cli) fn new(
        scenario: &'a Scenario,
        lessons: &'a [Lesson],
        measures: Vec<BaitMeasure>,
    ) -> Self {
        let content = SoundScenario {
            scenario: &scenario.name,
            scenario_sha256: &scenario.sha256,
            lines: scenario.lines.iter().map(|line| line.name.as_str()).collect(),
            shoals: scenario.shoals.iter().map(|shoal| shoal.name.as_str()).collect(),
            plans: scenario.plans.iter().map(|plan| plan.name.as_str()).collect(),
            lessons: lessons.iter().map(|lesson| lesson.name.as_str()).collect(),
            session_s: scenario.session_s,
            measures,
        };
        Self { format: Self::FORMAT, is_sound: true, faults: Vec::new(), content: Some(content) }
    }

    /// The document of a scenario with faults.
    pub(in crate::cli) fn from_faults(faults: Option<&'a Diagnostics>) -> Self {
        let faults = faults.map(Diagnostics::list).into_iter().flatten().map(FaultEntry::new);
        Self { format: Self::FORMAT, is_sound: false, faults: faults.collect(), content: None }
    }
}

impl<'a> FaultEntry<'a> {
    fn new(fault: &'a Diagnostic) -> Self {
        let column = match fault.location {
            SourceLocation::Position { column, .. } => Some(column),
            _ => None,
        };
        let place = match fault.location {
            SourceLocation::Set => "--set",
            SourceLocation::Vary => "--vary",
            SourceLocation::BuiltIn => "built-in baits",
            _ => fault.file.as_str(),
        };
        Self {
            place,
            line: fault.location.line(),
            column,
            key: &fault.key,
            problem: &fault.problem,
            fix: &fault.fix,
            nearest: fault.nearest.as_deref(),
        }
    }
}
