//! Warnings that the reader of a comparison should know before trusting or following it.

use super::plan_result::PlanResult;
use super::result::{Comparison, Warning};
use super::weather::{LOW_OXYGEN_MG_L, WARM_C, WeatherExtremes};
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
    all.extend(few_days(days));
    all.extend(unclear(comparison));
    all.extend(at_range_limit(scenario));
    all.extend(plans.iter().filter_map(blank));
    all.extend(plans.iter().filter_map(silent_rules));
    all.extend(plans.iter().filter_map(|plan| over_keepnet(scenario, plan)));
    all.extend(plans.iter().filter_map(|plan| over_bait_limit(scenario, plan)));
    all.extend(warm_water(days, weather));
    all.extend(low_oxygen(days, weather));
    all
}

fn warning(kind: &str, says: String) -> Warning {
    Warning { kind: kind.to_owned(), message: says }
}

fn few_days(days: u32) -> Option<Warning> {
    (days < MIN_DAYS).then(|| {
        warning(
            "few-days",
            format!(
                "Only {days} days were simulated, so the intervals are rough and the deciles even rougher. \
                 Simulate {MIN_DAYS} or more before you trust a close result (--days)."
            ),
        )
    })
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
            Some((other.as_str(), pair.difference_kg.mean.abs(), pair.difference_se_kg?))
        })
        .collect();
    let others: Vec<&str> = open.iter().map(|(other, ..)| *other).collect();
    let loss_kg = open.iter().map(|&(_, mean_kg, se_kg)| expected_loss_of_choice(mean_kg, se_kg));
    let loss = loss_kg.reduce(f64::max)? / mean(best);
    let needed = open.iter().map(|&(_, mean_kg, se_kg)| days_needed(comparison, mean_kg, se_kg));
    let advice = match needed.fold(0.0, f64::max) {
        days if days <= MAX_DAYS_ADVISED => format!("About {days:.0} days would decide (--days)"),
        _ => "It would take too many days to decide".to_owned(),
    };
    Some(warning(
        "unclear",
        format!(
            "{} is not clearly better than {}. {advice}. Choosing it now costs {} of its weight on average, \
             counting the chance that it is the wrong choice.",
            best.name,
            others.join(", "),
            if loss < 0.001 { "under 0.1 %".to_owned() } else { format!("{:.1} %", 100.0 * loss) },
        ),
    ))
}

/// Number of days, to two significant digits, after which a difference would be clear or certainly within the margin,
/// if its true size equals the current estimate.
fn days_needed(comparison: &Comparison, mean_kg: f64, se_kg: f64) -> f64 {
    let half_width_kg = t_quantile(comparison.rule.level_of_each, u64::MAX) * se_kg;
    let distance_kg = mean_kg.max(comparison.rule.margin_kg - mean_kg);
    let days = f64::from(comparison.days) * (half_width_kg / distance_kg).powi(2);
    let step = 10_f64.powi(days.max(10.0).log10().floor() as i32 - 1);
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
                let unit =
                    if row.unit.is_empty() { String::new() } else { format!(" {}", row.unit) };
                all.push(warning(
                    "edge",
                    format!(
                        "book.{}.{} is fixed at {}{unit}, a limit of its range ({low} to {high}); nothing is known \
                         beyond it. Check whether the verdict stays the same well inside the range.",
                        book.name, row.key, row.value
                    ),
                ));
            }
        }
    }
    all
}

fn blank(plan: &PlanResult) -> Option<Warning> {
    (plan.fish.mean <= 0.0).then(|| {
        warning(
            "no-fish",
            format!(
                "{} landed no fish on any day. Check its line, hookbait and recast, or replay one of its days.",
                plan.name
            ),
        )
    })
}

fn silent_rules(plan: &PlanResult) -> Option<Warning> {
    let silent: Vec<_> =
        plan.rules.iter().filter(|rule| rule.mean <= 0.0).map(|rule| rule.rule.as_str()).collect();
    (!silent.is_empty()).then(|| {
        warning(
            "silent-rule",
            format!(
                "{} did not use {} on any day. Make it easier to trigger, or remove it.",
                plan.name,
                match silent.as_slice() {
                    [rule] => format!("its rule {rule}"),
                    rules => format!("its rules {}", rules.join(", ")),
                }
            ),
        )
    })
}

fn over_keepnet(scenario: &Scenario, plan: &PlanResult) -> Option<Warning> {
    let keepnet = scenario.keepnet.filter(|_| scenario.kind == SessionKind::Match)?;
    let all_kg = keepnet.limit_kg * f64::from(keepnet.nets);
    (plan.weight_kg.p90 > all_kg).then(|| {
        let (often, kg) = match plan.weight_kg.mean {
            mean_kg if mean_kg > all_kg => ("on an average day", mean_kg),
            _ => ("or more on one day in ten", plan.weight_kg.p90),
        };
        warning(
            "keepnet",
            format!(
                "{} lands {kg:.1} kg {often}, more than {} of {:.1} kg each may hold. Take more nets, or \
                 weigh in during the match.",
                plan.name,
                if keepnet.nets == 1 {
                    "1 net".to_owned()
                } else {
                    format!("{} nets", keepnet.nets)
                },
                keepnet.limit_kg
            ),
        )
    })
}

fn over_bait_limit(scenario: &Scenario, plan: &PlanResult) -> Option<Warning> {
    let planned = scenario.plans.iter().find(|planned| planned.name == plan.name)?;
    let limit_kg = planned.bait_limit_kg?;
    // Bait is counted in whole milligrams.
    (plan.bait_kg.p90 > limit_kg - 2e-6).then(|| {
        warning(
            "bait-limit",
            format!(
                "{} uses up its {limit_kg:.2} kg of bait on at least one day in ten, and then fishes without \
                 feed. Feed less, or less often.",
                plan.name
            ),
        )
    })
}

fn warm_water(days: u32, weather: &WeatherExtremes) -> Option<Warning> {
    (weather.warm_days > 0).then(|| {
        warning(
            "warm-water",
            format!(
                "On {} of {days} days the water is above {WARM_C} °C (up to {:.1} °C). In warm water, being \
                 played and kept in a net harms fish most. Do not fish on such a day unless the fishery \
                 allows it, and follow its rule on keepnets.",
                weather.warm_days, weather.warmest_c
            ),
        )
    })
}

fn low_oxygen(days: u32, weather: &WeatherExtremes) -> Option<Warning> {
    (weather.low_oxygen_days > 0).then(|| {
        warning(
            "low-oxygen",
            format!(
                "On {} of {days} days the water holds less than {LOW_OXYGEN_MG_L} mg/L of oxygen (down \
                 to {:.1} mg/L), too little for fish. Do not fish on such a day unless the fishery \
                 allows it.",
                weather.low_oxygen_days, weather.lowest_oxygen_mg_l
            ),
        )
    })
}
