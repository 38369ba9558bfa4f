//! Statistical inference on pairs of plans: how sure a verdict must be, the verdict, and probabilities of superiority.

use super::plan_result::{KnownWater, WeightKg};
use super::result::{Superiority, VerdictRule};
use crate::scenario::Scenario;
use crate::stats::{ExplainedVariance, InputScores, InterimAnalyses, Interval, Paired, Verdict};
use crate::stats::{bonferroni_level, probability_of_superiority, wilson_interval};
use crate::study::estimate::Estimate;
use crate::study::units::interval_kg;

/// Maximum probability that any verdict of a comparison is false.
const ERROR: f64 = 0.05;
/// Confidence level of intervals that decide nothing.
const LEVEL: f64 = 0.95;
/// Default margin, as a share of the heaviest mean: plans whose difference is smaller are level.
const MARGIN_SHARE: f64 = 0.02;

/// Days before the first interim analysis. The spread between days, the probabilities and the curves need this many
/// even if the verdict is clear earlier.
const FIRST_ANALYSIS_DAYS: u32 = 200;

/// Interim analyses of a comparison that runs until its verdicts are clear, up to a limit of days.
pub(in crate::study) fn interim_analyses(limit_days: u32) -> InterimAnalyses {
    InterimAnalyses::new(FIRST_ANALYSIS_DAYS.min(limit_days), limit_days)
}

/// Margin within which plans are level [kg]: that of the scenario, or else a share of the heaviest mean.
pub(super) fn margin_kg(scenario: &Scenario, heaviest_mean_kg: f64) -> f64 {
    scenario.aims.margin_kg.unwrap_or(default_margin_kg(heaviest_mean_kg))
}

/// Margin within which plans are level if no scenario sets one [kg].
pub(in crate::study) fn default_margin_kg(heaviest_mean_kg: f64) -> f64 {
    MARGIN_SHARE * heaviest_mean_kg
}

/// Rule for verdicts between all pairs of `plans` plans after `performed` of at most `max_analyses` interim analyses.
pub(in crate::study) fn rule(
    plans: usize,
    margin_kg: f64,
    performed: u32,
    max_analyses: u32,
) -> VerdictRule {
    let plans = plans as u32;
    let pairs = plans * plans.saturating_sub(1) / 2;
    VerdictRule {
        error: ERROR,
        analyses: performed,
        max_analyses,
        pairs,
        level_of_each: bonferroni_level(ERROR, max_analyses, pairs),
        margin_kg,
    }
}

/// Interval for the mean difference of a pair at the level of `rule` [g].
pub(super) fn interval_g(pair: &Paired, rule: &VerdictRule) -> Option<Interval> {
    pair.interval(rule.level_of_each)
}

/// Verdict on the first plan of a pair against the second in mean weight.
pub(super) fn verdict(pair: &Paired, rule: &VerdictRule) -> Verdict {
    Verdict::from_interval(interval_g(pair, rule).map(interval_kg), rule.margin_kg)
}

/// The three probabilities that the first plan of a pair beats the second; `a_g` and `b_g` are the weights of each
/// day [g].
pub(super) fn superiority(
    pair: &Paired,
    a_g: &[u32],
    b_g: &[u32],
    explained: Option<&ExplainedVariance>,
) -> Superiority {
    let days = pair.differences().n();
    let days_ahead = pair.a_larger() as f64;
    Superiority {
        same_day: Estimate {
            value: days_ahead / days as f64,
            interval: wilson_interval(days_ahead, days, LEVEL),
        },
        independent_days: probability_of_superiority(a_g, b_g, LEVEL).map(Estimate::from),
        mean_higher: explained.and_then(|explained| {
            let differences = pair.differences();
            let (mean_g, se_g) = (differences.mean()?, differences.se()?);
            Some(explained.probability_above_zero(mean_g, se_g, LEVEL).into())
        }),
    }
}

/// How much of the variance of the differences the uncertain inputs explain, from the first days at which their draws
/// were kept. `None` if there are too few days.
pub(super) fn explained_variance(
    inputs: &InputScores,
    a_g: &[u32],
    b_g: &[u32],
) -> Option<ExplainedVariance> {
    let days = a_g.iter().zip(b_g);
    inputs.explained_variance(days.map(|(&a_g, &b_g)| f64::from(a_g) - f64::from(b_g)))
}

/// Most that the standard error of a share may be for the two kinds of spread to be separated: 200 days are enough.
const MAX_SHARE_SE: f64 = 0.2;

/// The spread of a plan's weights on a water that one knows. `None` if there are too few days, or no uncertain inputs.
pub(super) fn known_water(
    inputs: &InputScores,
    days_g: &[u32],
    weight_kg: &WeightKg,
) -> Option<KnownWater> {
    let explained = inputs.explained_variance(days_g.iter().map(|&day_g| f64::from(day_g)))?;
    (explained.se <= MAX_SHARE_SE).then(|| KnownWater::new(weight_kg, share_explained(&explained)))
}

/// Share of variance that the uncertain inputs explain, in the shape of the result.
pub(super) fn share_explained(explained: &ExplainedVariance) -> Estimate {
    explained.limited_share(LEVEL).into()
}
