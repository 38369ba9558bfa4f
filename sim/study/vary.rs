//! One or more values varied: every plan at every value on the same days.

use serde::Serialize;

use super::progress::Control;
use super::replicate::replicate;
use super::stamp::Stamp;
use super::weights::{Weights, kg};
use crate::scenario::Scenario;
use crate::stats::mean_interval;

/// A scenario with some values set.
#[derive(Clone, Debug, PartialEq)]
pub struct Variant {
    /// The values set, as written, in the order of the keys.
    pub values: Vec<String>,
    /// The scenario with them.
    pub scenario: Scenario,
}

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

/// One plan at one setting.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct VariedPlan {
    /// The plan's name.
    pub name: String,
    /// Weight at the scales.
    pub weight_kg: VariedWeightKg,
    /// Fish landed, mean over days.
    pub fish_mean: f64,
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
    /// Days fished at each setting, the same for all.
    pub days: u32,
    /// The dotted keys varied.
    pub keys: Vec<String>,
    /// Settings, in the order asked for.
    pub settings: Vec<VariedSetting>,
}

impl Vary {
    /// Name and version of the format.
    pub const FORMAT: &'static str = "shoalwise/vary/1";

    /// The results as CSV: a column a key, then plan, days and figures; a row a setting and plan.
    ///
    /// # Errors
    ///
    /// Where a value cannot be written.
    pub fn to_csv(&self) -> csv::Result<Vec<u8>> {
        let mut out = csv::Writer::from_writer(Vec::new());
        let figures =
            ["plan", "days", "weight_kg", "low95_kg", "high95_kg", "p10_kg", "p90_kg", "fish"];
        out.write_record(self.keys.iter().map(String::as_str).chain(figures))?;
        for setting in &self.settings {
            for plan in &setting.plans {
                let kg = plan.weight_kg;
                let figures = [kg.mean, kg.low95, kg.high95, kg.p10, kg.p90, plan.fish_mean];
                let row = [plan.name.clone(), self.days.to_string()];
                let figures = figures.map(|figure| format!("{figure:.4}"));
                out.write_record(setting.values.iter().chain(&row).chain(&figures))?;
            }
        }
        out.into_inner().map_err(|why| why.into_error().into())
    }
}

/// Fishes every plan of every variant on days 1 to `days` of a seed.
///
/// `base` is the scenario before anything was varied; it is not fished, only named in the stamp. Where it was
/// stopped, the settings finished by then are returned, and the one at hand is dropped.
#[must_use]
pub fn vary(
    base: &Scenario,
    keys: &[String],
    variants: &[Variant],
    seed: u64,
    days: u32,
    control: Control<'_>,
) -> Vary {
    let settings = variants
        .iter()
        .map_while(|variant| {
            let plans = fish_variant(&variant.scenario, seed, days, control)?;
            Some(VariedSetting { values: variant.values.clone(), plans })
        })
        .collect();
    Vary {
        format: Vary::FORMAT,
        stamp: Stamp::new(&base.name, &base.sha256, seed),
        days,
        keys: keys.to_vec(),
        settings,
    }
}

/// Every plan of one variant; none if it was stopped.
fn fish_variant(
    scenario: &Scenario,
    seed: u64,
    days: u32,
    control: Control<'_>,
) -> Option<Vec<VariedPlan>> {
    let mut weights = vec![(Weights::default(), 0_u64); scenario.plans.len()];
    let Ok(done) = replicate(scenario, seed, 1..=days, control, |day| {
        for ((weights, fish), outcome) in weights.iter_mut().zip(&day.outcomes) {
            weights.add(outcome.weight_g);
            *fish += outcome.catches.len() as u64;
        }
        Ok::<(), std::convert::Infallible>(())
    });
    let each = scenario.plans.iter().zip(&weights);
    (done == days).then(|| {
        each.map(|(plan, (weights, fish))| VariedPlan {
            name: plan.name.clone(),
            weight_kg: varied_kg(weights),
            fish_mean: *fish as f64 / f64::from(days),
        })
        .collect()
    })
}

fn varied_kg(weights: &Weights) -> VariedWeightKg {
    let summary = weights.summary_kg();
    let moments_g = weights.moments_g();
    let interval_g = moments_g
        .mean()
        .zip(moments_g.se())
        .and_then(|(mean_g, se_g)| mean_interval(mean_g, se_g, moments_g.n(), 0.95));
    VariedWeightKg {
        mean: summary.mean,
        low95: interval_g.map_or(f64::NAN, |interval_g| kg(interval_g.low)),
        high95: interval_g.map_or(f64::NAN, |interval_g| kg(interval_g.high)),
        p10: summary.p10,
        p90: summary.p90,
    }
}
