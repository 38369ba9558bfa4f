//! Invented results for reports.

use std::sync::LazyLock;

use sim::report::{ResponseCurve, ResponsePoint};
use sim::session::{Activity, TimeUse};
use sim::stats::{Interval, Verdict};
use sim::study::{
    BaitAmount, BaitKg, ByHour, ByShoal, Compare, Comparison, Count, CurvePoint, DecilesKg,
    DifferenceHistogram, Estimate, MeanCount, PlanResult, Stamp, StopReason, Superiority,
    SwimSummary, VerdictRule, WeightKg, decompose,
};

use crate::pond::pond;

/// `text` as it is printed: with a no-break space inside each quantity.
pub(crate) fn unbroken(text: &str) -> String {
    text.split('\n').map(unbroken_line).collect::<Vec<_>>().join("\n")
}

fn unbroken_line(text: &str) -> String {
    const UNITS: [&str; 10] = ["lb", "oz", "kg", "g", "%", "h", "min", "s", "m", "yd"];
    let mut joined = String::new();
    let mut before = "";
    for word in text.split(' ') {
        let bare = word.trim_matches(|c: char| !(c.is_alphanumeric() || c == '%'));
        let is_unit = before.ends_with(|c: char| c.is_ascii_digit()) && UNITS.contains(&bare);
        let goes_on = UNITS.contains(&before) && word.starts_with(|c: char| c.is_ascii_digit());
        joined.push_str(if joined.is_empty() {
            ""
        } else if is_unit || goes_on {
            "\u{a0}"
        } else {
            " "
        });
        joined.push_str(word);
        before = word;
    }
    joined
}

/// Length of the invented session [h].
const SESSION_H: f64 = 5.0;

/// Plans with a smaller difference are level [kg].
const MARGIN_KG: f64 = 0.5;

/// Two plans fished for two days; everything of it is replaced.
fn fished() -> Comparison {
    static FISHED: LazyLock<Comparison> = LazyLock::new(|| Compare::new(&pond()).days(2).run());
    FISHED.clone()
}

/// A plan whose weight is the product of its factors: bites an hour with bait in the water, share of the session
/// with bait in the water, mass of a fish.
pub(super) fn plan(name: &str, bites_per_h: f64, in_water: f64, fish_kg: f64) -> PlanResult {
    let bites = bites_per_h * in_water * SESSION_H;
    let fish = 0.9 * bites;
    let kg = fish * fish_kg;
    let curve = (0..=60).map(|step| {
        let share = f64::from(step) / 60.0;
        let mean_kg = kg * share.powf(1.35);
        CurvePoint {
            minute: share * SESSION_H * 60.0,
            mean_kg,
            p10_kg: 0.55 * mean_kg,
            p50_kg: 0.98 * mean_kg,
            p90_kg: 1.5 * mean_kg,
        }
    });
    let shoals = |share: f64| {
        [("small", 0.75), ("large", 0.25)].map(|(shoal, part)| ByShoal {
            shoal: shoal.to_owned(),
            fish_mean: share * part * fish,
            weight_kg_mean: share * part * kg,
        })
    };
    let hours = (1..=5_u32).map(|hour| {
        let (from, to) = (f64::from(hour - 1) / SESSION_H, f64::from(hour) / SESSION_H);
        ByHour {
            until_minute: 60.0 * f64::from(hour),
            by_shoal: shoals(to.powf(1.35) - from.powf(1.35)).into(),
        }
    });
    let mut result = fished().plans.remove(0);
    result.known_water = None;
    result.name = name.to_owned();
    result.weight_kg =
        WeightKg { mean: kg, se: Some(0.02 * kg), p10: 0.55 * kg, p50: 0.98 * kg, p90: 1.5 * kg };
    result.decile_intervals_kg = DecilesKg { p10: None, p50: None, p90: None };
    result.fish = count(fish);
    result.bites = MeanCount { mean: bites };
    result.lost = MeanCount { mean: bites - fish };
    result.foul_hooked = MeanCount { mean: 0.01 * fish };
    result.casts = MeanCount { mean: 60.0 };
    result.bait_kg = BaitKg { mean: 1.9, p90: 2.2 };
    result.baits = vec![BaitAmount { bait: "groundbait".to_owned(), mean: 1.9, p90: 2.2 }];
    result.by_shoal = shoals(1.0).into();
    result.by_hour = hours.collect();
    result.time_share = TimeUse::from_fn(|activity| match activity {
        Activity::Casting => 0.5 * (1.0 - in_water),
        Activity::Waiting => in_water,
        Activity::Playing | Activity::Rebaiting => 0.2 * (1.0 - in_water),
        Activity::Feeding => 0.0,
        Activity::Other => 0.1 * (1.0 - in_water),
    });
    result.best_share = 0.5;
    result.swim = SwimSummary {
        fish_on_line: 0.4 * bites_per_h,
        fish_up: 0.3,
        hookbait_share_of_mouthfuls: 0.012,
        taken_share: 0.6,
        hookbait_available_share: 0.9,
        hours_in_water: in_water * SESSION_H,
        bites_per_hour_in_water: bites_per_h,
        fish_kg: if fish > 0.0 { fish_kg } else { 0.0 },
        scared: 5.0,
        arrived: 80.0,
        snags: 0.2,
        events: 20_000.0,
    };
    result.rules = Vec::new();
    result.curve = curve.collect();
    result
}

/// A count with some spread.
fn count(mean: f64) -> Count {
    Count { mean, p10: 0.6 * mean, p50: mean, p90: 1.4 * mean }
}

/// Plans on 400 days; each difference has an interval of ± `half_kg`.
pub(super) fn comparison(plans: Vec<PlanResult>, half_kg: f64) -> Comparison {
    let mut pairs = Vec::new();
    for (at, a) in plans.iter().enumerate() {
        for b in &plans[at + 1..] {
            let mean = a.weight_kg.mean - b.weight_kg.mean;
            let ahead_share = if mean > 0.0 { 0.78 } else { 0.2 };
            let interval = Interval { low: mean - half_kg, high: mean + half_kg };
            let chance = |share| Estimate::new(share, share - 0.04, share + 0.04);
            let mut pair = fished().pairs.remove(0);
            pair.a = a.name.clone();
            pair.b = b.name.clone();
            pair.difference_kg = Estimate::new(mean, mean - half_kg, mean + half_kg);
            pair.a_ahead_share = ahead_share;
            pair.tie_share = 0.02;
            pair.correlation = Some(0.6);
            pair.factors = decompose(a, b);
            // Five days, one kilogram apart, centred on the mean.
            let differences_g = (-2..=2).map(|step| (1000.0 * mean) as i64 + 1000 * step);
            pair.histogram = DifferenceHistogram::from_grams(differences_g);
            pair.difference_se_kg = Some(0.5 * half_kg);
            pair.verdict = Verdict::from_interval(Some(interval), MARGIN_KG);
            pair.superiority = Superiority {
                same_day: chance(ahead_share),
                independent_days: Some(chance(0.5 + 0.5 * (ahead_share - 0.5))),
                mean_higher: Some(chance(if mean > 0.0 { 0.9 } else { 0.1 })),
            };
            pair.days_saved_factor = Some(2.5);
            pair.uncertain_inputs_share = Some(chance(0.3));
            pairs.push(pair);
        }
    }
    let mut result = fished();
    result.format = "shoalwise/compare/1";
    result.stamp = Stamp::new("invented", "00", 1);
    result.days = 400;
    result.stopped_because = StopReason::Clear;
    result.plans = plans;
    result.pairs = pairs;
    result.rule = VerdictRule {
        error: 0.05,
        analyses: 2,
        max_analyses: 5,
        pairs: 1,
        level_of_each: 0.99,
        margin_kg: MARGIN_KG,
    };
    result.aims = Vec::new();
    result.warnings = Vec::new();
    result
}

/// Two plans, of which the second is better.
pub(super) fn two() -> Comparison {
    comparison(
        vec![plan("ten-minutes", 4.4, 0.86, 1.35), plan("two-minutes", 7.4, 0.62, 1.38)],
        1.4,
    )
}

/// Four plans, two of them close at the top.
pub(super) fn four() -> Comparison {
    comparison(
        vec![
            plan("one-minute", 7.8, 0.44, 1.36),
            plan("two-minutes", 7.4, 0.62, 1.38),
            plan("four-minutes", 6.1, 0.75, 1.37),
            plan("ten-minutes", 4.0, 0.86, 1.35),
        ],
        1.1,
    )
}

/// A varied recast interval with its best value at 2.5 min.
pub(super) fn curve(log_axis: bool) -> ResponseCurve {
    let values = [
        ("45 s", 0.75, 19.8),
        ("1 min", 1.0, 23.4),
        ("90 s", 1.5, 26.7),
        ("2 min", 2.0, 28.1),
        ("2 min 30 s", 2.5, 28.3),
        ("3 min", 3.0, 28.0),
        ("5 min", 5.0, 25.4),
        ("10 min", 10.0, 20.1),
        ("20 min", 20.0, 15.2),
    ];
    ResponseCurve {
        plan: "steady".to_owned(),
        key: "plan.steady.recast".to_owned(),
        points: values
            .into_iter()
            .map(|(label, value, kg)| ResponsePoint {
                label: label.to_owned(),
                value,
                mean_kg: kg,
                interval_kg: Some(Interval { low: kg - 0.9, high: kg + 0.9 }),
                p10_kg: 0.55 * kg,
                p90_kg: 1.5 * kg,
                is_near_best: false,
            })
            .collect(),
        axis: "recast interval [min]".to_owned(),
        is_logarithmic: log_axis,
    }
}
