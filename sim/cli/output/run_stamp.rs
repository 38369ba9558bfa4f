//! `stamp.json`: how the files of a folder were made.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Serialize, Serializer};
use serde_json::{Map, Value};

use super::run_files::STAMP_FORMAT;
use super::run_origin::WaterOrigin;
use super::run_spec::RunSpec;
use crate::scenario::Units;
use crate::study::{IS_DIRTY_BUILD, MODEL_VERSION, Stamp};

/// Everything that decides the results of a run, except the number of days.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct RunIdentity<'a> {
    /// Name and version of the format.
    format: &'static str,
    /// The command.
    command: &'a str,
    /// Values given with `--set`, in order, as `KEY=VALUE`.
    sets: &'a [String],
    /// Whether `--fixed-days` was given: all days are the same.
    fixed_days: bool,
    /// Version, seed and scenario.
    stamp: &'a Stamp,
    /// Names of the plans fished, in order.
    plans: &'a [String],
    /// Varied keys and further options that change the result, as written.
    vary: &'a [String],
}

impl<'a> RunIdentity<'a> {
    /// What decides the results of a run.
    pub(super) fn new(spec: &'a RunSpec) -> Self {
        Self {
            format: STAMP_FORMAT,
            command: spec.command,
            sets: &spec.origin.sets,
            fixed_days: spec.origin.fixed_days,
            stamp: &spec.stamp,
            plans: &spec.plans,
            vary: &spec.result_options,
        }
    }

    pub(super) fn to_json(&self) -> Value {
        // Texts and numbers always have a JSON form.
        serde_json::to_value(self).unwrap_or_default()
    }
}

/// How the files of a folder were made: the content of `stamp.json`.
#[derive(Debug, Serialize, JsonSchema)]
pub(in crate::cli) struct RunStamp<'a> {
    #[serde(flatten)]
    identity: RunIdentity<'a>,
    /// Days fished.
    days: u32,
    /// Units of page, pictures and text: `metric` or `imperial`. `None` if the command has none.
    units: Option<&'static str>,
    /// A number that is raised with every change of the model that moves results.
    model_version: u32,
    /// Whether the program was built from a source that differs from its commit; the commit then ends in `-dirty`.
    dirty: bool,
    /// SHA-256 of the scenario file, as `sha256sum` prints it. `None` without a scenario, or with several.
    file_sha256: Option<&'a str>,
    /// SHA-256 of the parameter book that was laid over the built-in ones, if any.
    book_sha256: Option<&'a str>,
    /// Text of the scenario file; empty without a scenario, or with several.
    scenario_text: &'a str,
    /// Each of several waters, in order; only for a run on several.
    #[serde(skip_serializing_if = "<[_]>::is_empty")]
    waters: &'a [WaterOrigin],
    /// Whether the run stopped when its verdict was clear.
    until_clear: bool,
    /// Name and version of the format of each file, by its name.
    #[serde(serialize_with = "by_name")]
    #[schemars(with = "BTreeMap<String, FormatName>")]
    files: Vec<(String, &'static str)>,
}

/// Name and version of the format of the file.
#[derive(JsonSchema)]
#[schemars(transparent)]
struct FormatName(#[expect(dead_code, reason = "it names the schema")] String);

fn by_name<S: Serializer>(files: &[(String, &'static str)], to: S) -> Result<S::Ok, S::Error> {
    let pairs = files.iter().map(|(name, format)| (name.clone(), Value::from(*format)));
    pairs.collect::<Map<String, Value>>().serialize(to)
}

impl<'a> RunStamp<'a> {
    /// The stamp of a run of `days` days; `files` are names and formats of its files.
    pub(super) fn new(
        spec: &'a RunSpec,
        days: u32,
        until_clear: bool,
        files: Vec<(String, &'static str)>,
    ) -> Self {
        let origin = &spec.origin;
        Self {
            identity: RunIdentity::new(spec),
            days,
            units: origin.units.map(Units::name),
            model_version: MODEL_VERSION,
            dirty: IS_DIRTY_BUILD,
            file_sha256: origin.file_sha256.as_deref(),
            book_sha256: spec.stamp.book_sha256.as_deref(),
            scenario_text: &origin.scenario_text,
            waters: &origin.waters,
            until_clear,
            files,
        }
    }

    /// As indented JSON that ends with a line break.
    pub(super) fn to_text(&self) -> String {
        format!("{:#}\n", serde_json::to_value(self).unwrap_or_default())
    }
}
