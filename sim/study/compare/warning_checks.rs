//! Checks a comparison for what its reader should know before trusting or following it.

use super::plan_result::PlanResult;
use super::result::Comparison;
use super::warning::Warning;
use super::weather::{LOW_OXYGEN_MG_L, WARM_C, WeatherExtremes};
use crate::numerics::{log10, powi, square};
use crate::scenario::{Books, Scenario, SessionKind};
use crate::stats::{Verdict, expected_loss_of_choice, t_quantile};

/// Minimum number of days; fewer cause a warning.
const MIN_DAYS: u32 = 100;
/// Maximum number of days that are advised; if more are needed, the plans are practically level.
const MAX_DAYS_ADVISED: f64 = 200_000.0;

/// All warnings on a comparison: first on the statistics, then on rules, then on the welfare of fish.
pub(super) fn warnings(
    scenario: &Scenario,
    comparison: &Comparison,
    weather: &WeatherExtremes,
) -> Vec<Warning> {
    let (plans, days) = (&comparison.plans, comparison.days);
    let mut all = Vec::new();
    all.extend((days < MIN_DAYS).then_some(Warning::FewDays { days, enough_days: MIN_DAYS }));
    all.extend(unclear(comparison));
    all.extend(at_range_limit(scenario));
    all.extend(plans.iter().filter_map(no_fish));
    all.extend(plans.iter().filter_map(silent_rules));
    all.extend(plans.iter().filter_map(|plan| over_keepnet(scenario, plan)));
    all.extend(plans.iter().filter_map(|plan| over_bait_limit(scenario, plan)));
    all.extend(warm_water(days, weather));
    all.extend(low_oxygen(days, weather));
    all
}

/// Warning that the heaviest plan is not clearly better than others: what a wrong choice may cost, and how many days
/// would decide.
fn unclear(comparison: &Comparison) -> Option<Warning> {
    let mean = |plan: &PlanResult| plan.weight_kg.mean;
    // The first of equals.
    let best = comparison
        .plans
        .iter()
        .reduce(|best, next| if mean(next) > mean(best) { next } else { best })?;
    let open = comparison.pairs.iter().filter(|pair| {
        pair.verdict == Verdict::Inconclusive && (pair.a == best.name || pair.b == best.name)
    });
    let open: Vec<(&str, f64, f64)> = open
        .filter_map(|pair| {
            let other = if pair.a == best.name { &pair.b } else { &pair.a };
            Some((other.as_str(), pair.difference_kg.value.abs(), pair.difference_se_kg?))
        })
        .collect();
    let loss_kg = open.iter().map(|&(_, mean_kg, se_kg)| expected_loss_of_choice(mean_kg, se_kg));
    let loss_share = loss_kg.reduce(f64::max)? / mean(best);
    let needed = open.iter().map(|&(_, mean_kg, se_kg)| days_needed(comparison, mean_kg, se_kg));
    let days_needed = needed.fold(0.0, f64::max);
    Some(Warning::Unclear {
        best: best.name.clone(),
        others: open.iter().map(|&(other, ..)| other.to_owned()).collect(),
        days_needed: (days_needed <= MAX_DAYS_ADVISED).then_some(days_needed),
        loss_share,
    })
}

/// Number of days, to two significant digits, after which a difference would be clear or certainly within the margin,
/// if its true size equals the current estimate.
fn days_needed(comparison: &Comparison, mean_kg: f64, se_kg: f64) -> f64 {
    // As in the interval itself, so that days that did not decide are never said to decide.
    let freedom = u64::from(comparison.days.saturating_sub(1)).max(1);
    let half_width_kg = t_quantile(comparison.rule.level_of_each, freedom) * se_kg;
    let distance_kg = mean_kg.max(comparison.rule.margin_kg - mean_kg);
    let days = f64::from(comparison.days) * square(half_width_kg / distance_kg);
    let step = powi(10.0, log10(days.max(10.0)).floor() as i32 - 1);
    (days / step).ceil() * step
}

/// Warnings on parameters that the scenario holds at a limit of their range.
fn at_range_limit(scenario: &Scenario) -> Vec<Warning> {
    let default_books = Books::default();
    let mut all = Vec::new();
    for (book, default_book) in scenario.books.all().into_iter().zip(default_books.all()) {
        for (row, default_row) in book.rows().iter().zip(default_book.rows()) {
            let [low, high] = row.range;
            let tolerance = 1e-9 * (high - low);
            let is_held =
                row.prior != default_row.prior || (row.value - default_row.value).abs() > tolerance;
            let is_at_limit = row.value - low <= tolerance || high - row.value <= tolerance;
            if is_held && is_at_limit {
                all.push(Warning::RangeLimit {
                    key: format!("book.{}.{}", book.name, row.key),
                    value: row.value,
                    unit: row.unit.clone(),
                    range: row.range,
                });
            }
        }
    }
    all
}

fn no_fish(plan: &PlanResult) -> Option<Warning> {
    (plan.fish.mean <= 0.0).then(|| Warning::NoFish { plan: plan.name.clone() })
}

fn silent_rules(plan: &PlanResult) -> Option<Warning> {
    let silent = plan.rules.iter().filter(|rule| rule.mean <= 0.0);
    let rules: Vec<String> = silent.map(|rule| rule.rule.clone()).collect();
    (!rules.is_empty()).then(|| Warning::SilentRules { plan: plan.name.clone(), rules })
}

fn over_keepnet(scenario: &Scenario, plan: &PlanResult) -> Option<Warning> {
    let keepnet = scenario.keepnet.filter(|_| scenario.kind == SessionKind::Match)?;
    let all_kg = keepnet.limit_kg * f64::from(keepnet.nets);
    let weight_kg = plan.weight_kg;
    let is_average = weight_kg.mean > all_kg;
    (weight_kg.p90 > all_kg).then(|| Warning::OverKeepnet {
        plan: plan.name.clone(),
        weight_kg: if is_average { weight_kg.mean } else { weight_kg.p90 },
        is_average,
        nets: keepnet.nets,
        limit_kg: keepnet.limit_kg,
    })
}

fn over_bait_limit(scenario: &Scenario, plan: &PlanResult) -> Option<Warning> {
    let planned = scenario.plans.iter().find(|planned| planned.name == plan.name)?;
    let limit_kg = planned.bait_limit_kg?;
    // Bait is counted in whole milligrams.
    (plan.bait_kg.p90 > limit_kg - 2e-6)
        .then(|| Warning::BaitUsedUp { plan: plan.name.clone(), limit_kg })
}

fn warm_water(days: u32, weather: &WeatherExtremes) -> Option<Warning> {
    let &WeatherExtremes { warm_days, warmest_c, .. } = weather;
    (warm_days > 0).then_some(Warning::WarmWater { warm_days, days, limit_c: WARM_C, warmest_c })
}

fn low_oxygen(days: u32, weather: &WeatherExtremes) -> Option<Warning> {
    (weather.low_oxygen_days > 0).then_some(Warning::LowOxygen {
        low_days: weather.low_oxygen_days,
        days,
        limit_mg_l: LOW_OXYGEN_MG_L,
        lowest_mg_l: weather.lowest_oxygen_mg_l,
    })
}
