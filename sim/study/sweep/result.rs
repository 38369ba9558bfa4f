//! The result of a sweep: the weight of every plan at every point, and which points are as good as the best.

use schemars::JsonSchema;
use serde::Serialize;

use super::columns::SiColumns;
use crate::study::csv_cell::safe_cell;
use crate::study::csv_column::CellKind::{Number, Text, TrueOrFalse, WholeNumber};
use crate::study::csv_column::CsvColumn;
use crate::study::estimate::{Estimate, MeanEstimate};
use crate::study::stamp::Stamp;

/// Mean with its 95 % interval, and deciles over days [kg].
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SweptWeightKg {
    /// Mean.
    #[serde(flatten, with = "MeanEstimate")]
    pub mean: Estimate,
    /// First decile: one day in ten is below.
    pub p10: f64,
    /// Ninth decile: one day in ten is above.
    pub p90: f64,
}

/// Result of one plan at one setting.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SweptPlan {
    /// Name of the plan.
    pub name: String,
    /// Weight at the scales.
    pub weight_kg: SweptWeightKg,
    /// Mean number of fish landed per day [count].
    pub fish_mean: f64,
    /// Mean number of casts per day [count].
    pub casts_mean: f64,
    /// Mean bait used per day [kg].
    pub bait_mean_kg: f64,
    /// Mean at the best setting of this plan minus the mean at this setting, compared day by day [kg]; zero at the best
    /// setting. The interval holds at all settings of the plan together with 95 %.
    #[serde(rename = "behind_kg", with = "MeanEstimate")]
    pub shortfall_kg: Estimate,
    /// Whether it may lie within two per cent of the best setting of this plan: the interval does not rule it out.
    pub near_best: bool,
}

/// Results of every plan at one setting.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SweptSetting {
    /// Values, as written, in the order of the keys.
    pub values: Vec<String>,
    /// Plans, in the order of the scenario.
    pub plans: Vec<SweptPlan>,
}

/// Number of columns with numbers that may lack.
const NUMBERS: usize = 11;

/// The result of a sweep.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SweepResult {
    /// `shoalwise/vary/1`.
    pub format: &'static str,
    /// Origin; the hash is that of the scenario before anything was varied.
    pub stamp: Stamp,
    /// Design of the settings, in words.
    pub design: String,
    /// Days fished at each setting, the same for all.
    pub days: u32,
    /// Dotted keys that were varied.
    pub keys: Vec<String>,
    /// SHA-256 of the weights of all sessions, by setting, plan and day, each an unsigned 32-bit whole number of grams,
    /// lowest byte first.
    pub weights_sha256: String,
    /// Settings, in the order of the design.
    pub settings: Vec<SweptSetting>,
}

impl SweepResult {
    /// Name and version of the format.
    pub const FORMAT: &'static str = "shoalwise/vary/1";

    /// Settings within this share of the best mean count as nearly as good.
    pub const NEAR_BEST_SHARE: f64 = 0.02;

    /// Columns of the table between those of the keys and those of their values in SI units.
    pub const FIGURES: [CsvColumn; NUMBERS + 3] = [
        CsvColumn::new("plan", Text, "", "Name of the plan."),
        CsvColumn::new("days", WholeNumber, "", "Days fished at each setting, the same for all."),
        CsvColumn::new("weight_kg", Number, "kg", "Mean weight at the scales."),
        CsvColumn::new("low95_kg", Number, "kg", "Lower end of its 95 % interval.").or_empty(),
        CsvColumn::new("high95_kg", Number, "kg", "Upper end of its 95 % interval.").or_empty(),
        CsvColumn::new("p10_kg", Number, "kg", "First decile of weight: one day in ten is below."),
        CsvColumn::new("p90_kg", Number, "kg", "Ninth decile of weight: one day in ten is above."),
        CsvColumn::new("fish", Number, "count", "Mean number of fish landed a day."),
        CsvColumn::new("casts", Number, "count", "Mean number of casts a day."),
        CsvColumn::new("bait_kg", Number, "kg", "Mean bait used a day."),
        CsvColumn::new(
            "behind_best_kg",
            Number,
            "kg",
            "Mean at the best setting of this plan minus the mean at this setting, compared day by day; 0 at the best setting.",
        ),
        CsvColumn::new(
            "behind_low95_kg",
            Number,
            "kg",
            "Lower end of the joint interval of `behind_kg`: 95 % sure that those at all settings of the plan hold at once.",
        )
        .or_empty(),
        CsvColumn::new("behind_high95_kg", Number, "kg", "Upper end of the joint interval of `behind_kg`.").or_empty(),
        CsvColumn::new(
            "near_best",
            TrueOrFalse,
            "",
            "Whether the setting may lie within two per cent of the best setting of this plan: the interval does not rule it out.",
        ),
    ];

    /// The results as CSV with one row per setting and plan: one column per key, then plan, days and figures, then the
    /// keys' values in SI units where they are numbers.
    ///
    /// # Errors
    ///
    /// If a value cannot be written.
    pub fn to_csv(&self) -> csv::Result<Vec<u8>> {
        let mut out = csv::Writer::from_writer(Vec::new());
        let first = self.settings.first().map(|setting| &setting.values);
        let columns = SiColumns::new(&self.keys, first);
        let figures = Self::FIGURES.map(|column| column.name);
        let head = self.keys.iter().map(String::as_str).chain(figures);
        out.write_record(head.chain(columns.names().map(String::as_str)))?;
        for setting in &self.settings {
            // An empty cell stands for a word among numbers, since every reader accepts it.
            let si: Vec<String> = columns
                .values(&self.keys, &setting.values)
                .into_iter()
                .map(|si| si.map_or_else(String::new, |si| si.to_string()))
                .collect();
            for plan in &setting.plans {
                let (kg, behind) = (plan.weight_kg, plan.shortfall_kg);
                let figures: [Option<f64>; NUMBERS] = [
                    Some(kg.mean.value),
                    kg.mean.low95(),
                    kg.mean.high95(),
                    Some(kg.p10),
                    Some(kg.p90),
                    Some(plan.fish_mean),
                    Some(plan.casts_mean),
                    Some(plan.bait_mean_kg),
                    Some(behind.value),
                    behind.low95(),
                    behind.high95(),
                ];
                // A single day has no interval.
                let figures = figures.map(|figure| {
                    figure.map_or_else(|| "NaN".to_owned(), |figure| format!("{figure:.4}"))
                });
                let row = [safe_cell(&plan.name).into_owned(), self.days.to_string()];
                let near = [plan.near_best.to_string()];
                let values: Vec<String> =
                    setting.values.iter().map(|value| safe_cell(value).into_owned()).collect();
                let row = values.iter().chain(&row).chain(&figures).chain(&near);
                out.write_record(row.chain(&si))?;
            }
        }
        out.into_inner().map_err(|error| error.into_error().into())
    }
}
