//! What the reader of a comparison should know before trusting or following it.

use super::result::{PlanResult, Warning};
use super::scoreboard::{LOW_OXYGEN_MG_L, WARM_C, WeatherMet};
use crate::scenario::{Scenario, SessionKind};

/// Fewer days than this are warned of.
const FEW_DAYS: u32 = 100;

/// All warnings on a comparison, statistics first, then rules, then the welfare of fish.
pub(super) fn warnings(
    scenario: &Scenario,
    plans: &[PlanResult],
    days: u32,
    weather: &WeatherMet,
) -> Vec<Warning> {
    let mut all = Vec::new();
    all.extend(few_days(days));
    all.extend(plans.iter().filter_map(blank));
    all.extend(plans.iter().filter_map(silent_rules));
    all.extend(plans.iter().filter_map(|plan| over_keepnet(scenario, plan)));
    all.extend(plans.iter().filter_map(|plan| over_bait_limit(scenario, plan)));
    all.extend(warm_water(days, weather));
    all.extend(low_oxygen(days, weather));
    all
}

fn warning(kind: &str, says: String) -> Warning {
    Warning { kind: kind.to_owned(), says }
}

fn few_days(days: u32) -> Option<Warning> {
    (days < FEW_DAYS).then(|| {
        warning(
            "few-days",
            format!(
                "Only {days} days were fished: the intervals are rough and the deciles rougher. \
                 Fish {FEW_DAYS} or more before you trust a close call (--days)."
            ),
        )
    })
}

fn blank(plan: &PlanResult) -> Option<Warning> {
    (plan.fish.mean <= 0.0).then(|| {
        warning(
            "no-fish",
            format!(
                "{} never landed a fish on any day: look at its line, hookbait and recast, or replay \
                 a day of it.",
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
                "{} never came to use {} on any day: ask for less, or take out what does nothing.",
                plan.name,
                match silent.as_slice() {
                    [one] => format!("its rule {one}"),
                    many => format!("its rules {}", many.join(", ")),
                }
            ),
        )
    })
}

fn over_keepnet(scenario: &Scenario, plan: &PlanResult) -> Option<Warning> {
    let keepnet = scenario.keepnet.filter(|_| scenario.kind == SessionKind::Match)?;
    let all_kg = keepnet.limit_kg * f64::from(keepnet.nets);
    (plan.weight_kg.mean > all_kg).then(|| {
        warning(
            "keepnet",
            format!(
                "{} lands {:.1} kg on an average day, more than {} of {:.1} kg each may hold: have \
                 more nets, or weigh in as you go.",
                plan.name,
                plan.weight_kg.mean,
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
    let asked = scenario.plans.iter().find(|asked| asked.name == plan.name)?;
    let limit_kg = asked.bait_limit_kg?;
    // Bait is counted in whole milligrams.
    (plan.bait_kg.p90 > limit_kg - 2e-6).then(|| {
        warning(
            "bait-limit",
            format!(
                "{} uses up its {limit_kg:.2} kg of bait on at least one day in ten, and fishes without feed \
                 after that: feed less, or less often.",
                plan.name
            ),
        )
    })
}

fn warm_water(days: u32, weather: &WeatherMet) -> Option<Warning> {
    (weather.warm_days > 0).then(|| {
        warning(
            "warm-water",
            format!(
                "On {} of {days} days the water is above {WARM_C} °C (up to {:.1} °C), when a fight \
                 and a net cost fish most. Do not fish such a day unless the fishery says that it is \
                 fit, and keep to its rule on keepnets.",
                weather.warm_days, weather.warmest_c
            ),
        )
    })
}

fn low_oxygen(days: u32, weather: &WeatherMet) -> Option<Warning> {
    (weather.low_oxygen_days > 0).then(|| {
        warning(
            "low-oxygen",
            format!(
                "On {} of {days} days the water holds less than {LOW_OXYGEN_MG_L} mg/L of oxygen (down \
                 to {:.1} mg/L), and fish are short of breath. Do not fish such a day unless the \
                 fishery says that it is fit.",
                weather.low_oxygen_days, weather.least_oxygen_mg_l
            ),
        )
    })
}
