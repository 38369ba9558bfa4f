//! What the reader of a comparison should know before trusting or following it.

use super::result::{Comparison, PlanResult, Warning};
use super::scoreboard::{LOW_OXYGEN_MG_L, WARM_C, WeatherMet};
use crate::scenario::{Books, Scenario, SessionKind};
use crate::stats::{Standing, expected_loss_of_choice, t_quantile};

/// Fewer days than this are warned of.
const FEW_DAYS: u32 = 100;
/// More days than this are not advised: the two plans are as good as level.
const MANY_DAYS: f64 = 200_000.0;

/// All warnings on a comparison, statistics first, then rules, then the welfare of fish.
pub(super) fn warnings(
    scenario: &Scenario,
    found: &Comparison,
    weather: &WeatherMet,
) -> Vec<Warning> {
    let (plans, days) = (&found.plans, found.days);
    let mut all = Vec::new();
    all.extend(few_days(days));
    all.extend(unclear(found));
    all.extend(at_the_edge(scenario));
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

/// The heaviest plan is not told apart from others: what that may cost, and what it would take.
fn unclear(found: &Comparison) -> Option<Warning> {
    let mean = |plan: &PlanResult| plan.weight_kg.mean;
    // Of equals the first.
    let best = found
        .plans
        .iter()
        .reduce(|best, next| if mean(next) > mean(best) { next } else { best })?;
    let open = found.pairs.iter().filter(|pair| {
        pair.verdict == Standing::Open && (pair.a == best.name || pair.b == best.name)
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
    let needed = open.iter().map(|&(_, mean_kg, se_kg)| days_needed(found, mean_kg, se_kg));
    let advice = match needed.fold(0.0, f64::max) {
        days if days <= MANY_DAYS => format!("About {days:.0} days would tell (--days)"),
        _ => "More days than are worth fishing would be needed to tell".to_owned(),
    };
    Some(warning(
        "unclear",
        format!(
            "{} is not told apart from {}. {advice}; going by what is known now costs {} of its weight on average, if \
             it is the wrong choice at all.",
            best.name,
            others.join(", "),
            if loss < 0.001 { "under 0.1 %".to_owned() } else { format!("{:.1} %", 100.0 * loss) },
        ),
    ))
}

/// Days, to two figures, after which a difference would be clear or surely within the margin, were it just what it
/// seems to be now.
fn days_needed(found: &Comparison, mean_kg: f64, se_kg: f64) -> f64 {
    let reach_kg = t_quantile(found.rule.level_of_each, u64::MAX) * se_kg;
    let gap_kg = mean_kg.max(found.rule.margin_kg - mean_kg);
    let days = f64::from(found.days) * (reach_kg / gap_kg).powi(2);
    let step = 10_f64.powi(days.max(10.0).log10().floor() as i32 - 1);
    (days / step).ceil() * step
}

/// Parameters that the scenario holds at an end of their range.
fn at_the_edge(scenario: &Scenario) -> Vec<Warning> {
    let usual = Books::default();
    let mut all = Vec::new();
    for (book, usual) in scenario.books.all().into_iter().zip(usual.all()) {
        for (row, usual) in book.rows().iter().zip(usual.rows()) {
            let [low, high] = row.range;
            let hair = 1e-9 * (high - low);
            let is_held = row.prior != usual.prior || (row.value - usual.value).abs() > hair;
            let is_at_an_end = row.value - low <= hair || high - row.value <= hair;
            if is_held && is_at_an_end {
                let unit =
                    if row.unit.is_empty() { String::new() } else { format!(" {}", row.unit) };
                all.push(warning(
                    "edge",
                    format!(
                        "book.{}.{} is held at {}{unit}, an end of its range ({low} to {high}): beyond it \
                         nothing is known. See whether the verdict stays as it is further in.",
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
    (plan.weight_kg.p90 > all_kg).then(|| {
        let (often, kg) = match plan.weight_kg.mean {
            mean_kg if mean_kg > all_kg => ("on an average day", mean_kg),
            _ => ("or more on one day in ten", plan.weight_kg.p90),
        };
        warning(
            "keepnet",
            format!(
                "{} lands {kg:.1} kg {often}, more than {} of {:.1} kg each may hold: have more nets, or \
                 weigh in as you go.",
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
