//! The result of a search for the best setting, in the shape in which it is written as JSON.

use schemars::JsonSchema;
use serde::Serialize;

use super::objective::Objective;
use crate::stats::SearchMethod;
use crate::study::csv_cell::safe_cell;
use crate::study::csv_column::CellKind::{Number, WholeNumber};
use crate::study::csv_column::CsvColumn;
use crate::study::estimate::{Estimate, MeanEstimate};
use crate::study::stamp::Stamp;

/// A setting that may vary.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Setting {
    /// Dotted key; `plan` for the choice among plans.
    pub key: String,
    /// Values, as written.
    pub values: Vec<String>,
    /// Whether the values are ordered, so that neighbouring values have similar effects.
    pub is_ordered: bool,
}

/// Verdict on a finalist against the best plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum FinalistVerdict {
    /// The difference is not statistically clear.
    #[serde(rename = "level")]
    Inconclusive,
    /// The finalist is clearly worse.
    #[serde(rename = "behind")]
    Worse,
    /// The finalist is clearly better: the search chose wrongly.
    #[serde(rename = "ahead")]
    Better,
}

/// A plan that was nearly as good in the search.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Finalist {
    /// Values, as written, in the order of the settings.
    pub values: Vec<String>,
    /// Its value: a mean weight or a probability, depending on the objective [kg or share].
    #[serde(with = "MeanEstimate")]
    pub value: Estimate,
    /// Its value minus that of the best plan. The lower ends of all finalists hold together with 95 %, and so do the
    /// upper ends [kg or share].
    #[serde(rename = "ahead", with = "MeanEstimate")]
    pub difference: Estimate,
    /// Verdict against the best plan.
    #[serde(rename = "stands")]
    pub verdict: FinalistVerdict,
}

/// Effect of another value of one setting, with all other settings at their best values.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ValueEffect {
    /// Value, as written.
    pub value: String,
    /// Result with this value minus that with the best value [kg or share].
    #[serde(rename = "ahead", with = "MeanEstimate")]
    pub difference: Estimate,
}

/// Best value of one setting, and the effect of other values.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SettingResult {
    /// Dotted key.
    pub key: String,
    /// Values searched.
    pub values: Vec<String>,
    /// Whether the values are ordered.
    pub is_ordered: bool,
    /// Best value.
    #[serde(rename = "found")]
    pub best_value: String,
    /// Effects of other values.
    #[serde(rename = "worth")]
    pub effects: Vec<ValueEffect>,
    /// Number of days on which other values were tried.
    #[serde(rename = "worth_days")]
    pub effect_days: u32,
}

/// The baseline: the plan as written in the scenario.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct BaselineResult {
    /// Its value: a mean weight or a probability, depending on the objective [kg or share].
    #[serde(with = "MeanEstimate")]
    pub value: Estimate,
    /// Value of the best plan minus that of the baseline [kg or share].
    #[serde(rename = "behind", with = "MeanEstimate")]
    pub shortfall: Estimate,
    /// Number of real sessions with each plan that would show the better one with 95 %. `None` if the difference is not
    /// clear.
    #[serde(rename = "bank_sessions")]
    pub real_sessions: Option<u64>,
}

/// Evaluation of one point in one round of the search.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PointEvaluation {
    /// Round, counted from 1.
    pub round: u32,
    /// Values, as written.
    pub values: Vec<String>,
    /// Number of days on which the point was tried in that round.
    pub days: u64,
    /// Mean over these days.
    pub mean: f64,
    /// Standard error of the mean; `None` for a single day.
    pub se: Option<f64>,
}

/// The result of a search.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[non_exhaustive]
pub struct SearchResult {
    /// `shoalwise/best/1`.
    pub format: &'static str,
    /// Origin; the hash is that of the scenario before anything was set.
    pub stamp: Stamp,
    /// Objective.
    #[serde(flatten)]
    pub objective: Objective,
    /// Number of combinations of values.
    pub combinations: u64,
    /// Method of the search.
    pub method: SearchMethod,
    /// Total number of sessions fished.
    pub sessions: u64,
    /// Number of days of confirmation: days 1 to this of the seed, none of which the search used.
    pub days: u32,
    /// Value of the best plan: a mean weight or a probability, depending on the objective [kg or share].
    #[serde(rename = "found", with = "MeanEstimate")]
    pub best: Estimate,
    /// Best value of each setting.
    pub settings: Vec<SettingResult>,
    /// Other finalists, in the order of the search.
    pub finalists: Vec<Finalist>,
    /// The baseline; `None` unless the scenario as written is a single plan.
    #[serde(rename = "as_written")]
    pub baseline: Option<BaselineResult>,
    /// All evaluations of the search; written to `best.csv`.
    #[serde(skip)]
    pub evaluations: Vec<PointEvaluation>,
}

impl SearchResult {
    /// Name and version of the format.
    pub const FORMAT: &'static str = "shoalwise/best/1";
    /// Name and version of the format of the table of evaluations.
    pub const EVALUATIONS_FORMAT: &'static str = "shoalwise/best-tried/1";

    /// Overrides that give the best plan, as `KEY=VALUE`, without the choice among plans.
    pub fn overrides(&self) -> impl Iterator<Item = String> {
        let set = |setting: &SettingResult| format!("{}={}", setting.key, setting.best_value);
        self.settings.iter().filter(|setting| setting.key != Setting::PLAN).map(set)
    }
}

impl Setting {
    /// Key of the choice among plans.
    pub const PLAN: &'static str = "plan";
}

/// Columns of the table of evaluations; those of the keys follow the first.
pub const EVALUATION_COLUMNS: [CsvColumn; 4] = [
    CsvColumn::new("round", WholeNumber, "", "Round of the search, from 1."),
    CsvColumn::new(
        "days",
        WholeNumber,
        "",
        "Number of days on which the point was tried in that round.",
    ),
    CsvColumn::new(
        "mean",
        Number,
        "kg or share",
        "Mean over these days: a weight, or a probability for the other aims.",
    ),
    CsvColumn::new(
        "se",
        Number,
        "kg or share",
        "Standard error of the mean; empty for a single day.",
    )
    .or_empty(),
];

/// Evaluations as CSV: the round, one column per key, days, mean and standard error.
///
/// # Errors
///
/// If a value cannot be written.
pub fn evaluations_csv<'a>(
    keys: impl Iterator<Item = &'a str>,
    tried: &[PointEvaluation],
) -> csv::Result<Vec<u8>> {
    let mut out = csv::Writer::from_writer(Vec::new());
    let [round, figures @ ..] = EVALUATION_COLUMNS.map(|column| column.name);
    out.write_record([round].into_iter().chain(keys).chain(figures))?;
    for point in tried {
        let round = point.round.to_string();
        let se = point.se.map_or_else(String::new, |se| format!("{se:.4}"));
        let figures: [String; EVALUATION_COLUMNS.len() - 1] =
            [point.days.to_string(), format!("{:.4}", point.mean), se];
        let values: Vec<String> =
            point.values.iter().map(|value| safe_cell(value).into_owned()).collect();
        out.write_record(std::iter::once(&round).chain(&values).chain(&figures))?;
    }
    out.into_inner().map_err(|error| error.into_error().into())
}
