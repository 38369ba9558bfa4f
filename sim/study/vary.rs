//! What a sweep came to: every plan's weight at every point, and which points are as good as the best.

use serde::Serialize;

use super::schema::Columns;
use super::stamp::Stamp;
use crate::scenario::si_value;

/// Mean with its 95 % interval, and deciles over days [kg].
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct VariedWeightKg {
    /// Mean.
    pub mean: f64,
    /// Lower end of its 95 % interval.
    pub low95: f64,
    /// Upper end.
    pub high95: f64,
    /// One day in ten is below.
    pub p10: f64,
    /// One day in ten is above.
    pub p90: f64,
}

/// How far a mean lies behind the best of the plan, compared day by day [kg].
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Behind {
    /// Mean difference; nought at the best itself.
    pub mean: f64,
    /// Lower end of an interval that holds at all points of the plan at once with 95 %.
    pub low95: f64,
    /// Upper end.
    pub high95: f64,
}

/// One plan at one setting.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct VariedPlan {
    /// The plan's name.
    pub name: String,
    /// Weight at the scales.
    pub weight_kg: VariedWeightKg,
    /// Fish landed, mean over days.
    pub fish_mean: f64,
    /// Casts, mean over days.
    pub casts_mean: f64,
    /// Bait used, mean over days [kg].
    pub bait_mean_kg: f64,
    /// How far it lies behind the best setting of this plan [kg].
    pub behind_kg: Behind,
    /// Whether it may be within two per cent of the best setting of this plan, for all that is known.
    pub near_best: bool,
}

/// Every plan at one setting.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct VariedSetting {
    /// The values set, as written, in the order of the keys.
    pub values: Vec<String>,
    /// Plans, in the order of the scenario.
    pub plans: Vec<VariedPlan>,
}

/// What varying some values came to.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Vary {
    /// `shoalwise/vary/1`.
    pub format: &'static str,
    /// Where it came from; the scenario's hash is of the scenario before anything was varied.
    pub stamp: Stamp,
    /// How the settings were laid, in words.
    pub design: String,
    /// Days fished at each setting, the same for all.
    pub days: u32,
    /// The dotted keys varied.
    pub keys: Vec<String>,
    /// SHA-256 of all sessions' weights, by setting, plan and day, each an unsigned 32-bit whole number of
    /// grams, lowest byte first.
    pub weights_sha256: String,
    /// Settings, in the order asked for.
    pub settings: Vec<VariedSetting>,
}

impl Vary {
    /// Name and version of the format.
    pub const FORMAT: &'static str = "shoalwise/vary/1";

    /// Nearly as good as the best: within this share of its mean.
    pub const NEAR: f64 = 0.02;

    /// The results as CSV: a column a key, then plan, days and figures, then the numbers among the keys' values
    /// in SI units; a row a setting and plan.
    ///
    /// # Errors
    ///
    /// Where a value cannot be written.
    pub fn to_csv(&self) -> csv::Result<Vec<u8>> {
        let mut out = csv::Writer::from_writer(Vec::new());
        let first = self.settings.first().map(|setting| &setting.values);
        let numbers = Columns::of(&self.keys, first).numbers;
        let figures = [
            "plan",
            "days",
            "weight_kg",
            "low95_kg",
            "high95_kg",
            "p10_kg",
            "p90_kg",
            "fish",
            "casts",
            "bait_kg",
            "behind_best_kg",
            "behind_low95_kg",
            "behind_high95_kg",
            "near_best",
        ];
        let head = self.keys.iter().map(String::as_str).chain(figures);
        out.write_record(head.chain(numbers.iter().flatten().map(String::as_str)))?;
        for setting in &self.settings {
            let si = self.keys.iter().zip(&setting.values).zip(&numbers);
            let si: Vec<String> = si
                .filter_map(|((key, value), column)| {
                    column.as_ref()?;
                    // An empty cell is how all readers take a word among numbers.
                    Some(si_value(key, value).map_or_else(String::new, |(si, _)| si.to_string()))
                })
                .collect();
            for plan in &setting.plans {
                let (kg, behind) = (plan.weight_kg, plan.behind_kg);
                let figures = [
                    kg.mean,
                    kg.low95,
                    kg.high95,
                    kg.p10,
                    kg.p90,
                    plan.fish_mean,
                    plan.casts_mean,
                    plan.bait_mean_kg,
                    behind.mean,
                    behind.low95,
                    behind.high95,
                ];
                let figures = figures.map(|figure| format!("{figure:.4}"));
                let row = [plan.name.clone(), self.days.to_string()];
                let near = [plan.near_best.to_string()];
                let row = setting.values.iter().chain(&row).chain(&figures).chain(&near);
                out.write_record(row.chain(&si))?;
            }
        }
        out.into_inner().map_err(|why| why.into_error().into())
    }
}
