//! The results of a comparison on given days.

use sim::report::warning_text;
use sim::scenario::{Keepnet, Scenario, SessionKind, Units};
use sim::session::{Activity, Catch, Outcome, ShoalCatch, TimeUse};
use sim::study::{Comparison, DayOutcomes, Scoreboard, SessionsCsv, comparison, curve_times_s};
use sim::water::Conditions;

use crate::pond::{FAIR, SESSION_S, plan, pond};

/// A session in which fish of these masses are landed at equal intervals.
fn caught(masses_g: &[u32]) -> Outcome {
    let n = masses_g.len() as f64;
    let catches = masses_g.iter().zip(1..).map(|(&mass_g, nth)| Catch {
        at_s: SESSION_S * f64::from(nth) / n,
        mass_g,
        shoal: 0,
        foul: false,
    });
    let mut outcome = Outcome::default();
    outcome.weight_g = masses_g.iter().copied().map(u64::from).sum();
    outcome.catches = catches.collect();
    outcome.bites = 2 * masses_g.len() as u32;
    outcome.casts = 10;
    outcome.time_s =
        TimeUse::from_fn(|activity| if activity == Activity::Waiting { SESSION_S } else { 0.0 });
    outcome
}

fn day(number: u32, conditions: Conditions, outcomes: Vec<Outcome>) -> DayOutcomes {
    DayOutcomes { number, conditions, uncertain_inputs: Vec::new(), outcomes }
}

fn compared(scenario: &Scenario, days: &[DayOutcomes]) -> Comparison {
    let mut board = Scoreboard::new(scenario);
    days.iter().for_each(|day| board.add(day));
    comparison(scenario, 1, &board)
}

fn kinds(comparison: &Comparison) -> Vec<&str> {
    comparison.warnings.iter().map(|warning| warning.kind()).collect()
}

/// The sentence of the warning with this number.
fn sentence(comparison: &Comparison, number: usize) -> String {
    warning_text(&comparison.warnings[number], Units::Metric)
}

fn assert_near(what: &str, got: f64, expected: f64) {
    assert!((got - expected).abs() < 1e-12, "{what}: got {got}, expected {expected}");
}

#[test]
fn a_day_won_by_several_plans_is_divided_among_them() {
    let mut scenario = pond();
    scenario.plans = ["a", "b", "c"].map(|name| plan(name, 120.0)).to_vec();
    let weights_g = [[3, 2, 1], [5, 5, 1], [4, 4, 4], [0, 1, 9]];
    let days: Vec<DayOutcomes> = weights_g
        .iter()
        .zip(1..)
        .map(|(day_g, n)| day(n, FAIR, day_g.map(|g| caught(&[1000 * g])).to_vec()))
        .collect();
    let comparison = compared(&scenario, &days);
    let shares: Vec<f64> = comparison.plans.iter().map(|plan| plan.best_share).collect();
    let third = 1.0 / 3.0;
    for (plan, expected) in [(0, 1.0 + 0.5 + third), (1, 0.5 + third), (2, third + 1.0)] {
        assert_near("best share", shares[plan], expected / 4.0);
    }
    assert_near("shares", shares.iter().sum(), 1.0);
}

#[test]
fn pairs_are_compared_day_by_day() {
    let days = [[2000, 1500], [3000, 3000], [1000, 2500], [4000, 1000]];
    let days: Vec<DayOutcomes> = days
        .iter()
        .zip(1..)
        .map(|(day_g, n)| day(n, FAIR, day_g.map(|g| caught(&[g])).to_vec()))
        .collect();
    let pair = &compared(&pond(), &days).pairs[0];
    assert_eq!((pair.a.as_str(), pair.b.as_str()), ("often", "seldom"));
    assert_near("a − b [kg]", pair.difference_kg.value, 0.5);
    assert_near("days a was ahead", pair.a_ahead_share, 0.5);
    assert_near("days of a tie", pair.tie_share, 0.25);
    // Differences 0.5, 0, −1.5, 3: s² = 3.5, se = √(3.5 / 4); t of 3 degrees of freedom is 3.182446.
    let half_kg = 3.182_446_305_284_263 * (3.5_f64 / 4.0).sqrt();
    let interval_kg = pair.difference_kg.interval.expect("four days");
    assert!((interval_kg.high - 0.5 - half_kg).abs() < 1e-8, "high end {}", interval_kg.high);
    assert!((interval_kg.low - 0.5 + half_kg).abs() < 1e-8, "low end {}", interval_kg.low);
    // The two columns have means 2.5 and 2, and about them Σab = −1.5, Σa² = 5, Σb² = 2.5.
    let r = pair.correlation.expect("both vary");
    assert_near("correlation", r, -1.5 / 12.5_f64.sqrt());
}

#[test]
fn a_plan_that_never_varies_has_no_correlation() {
    let days: Vec<DayOutcomes> =
        (1..=5).map(|n| day(n, FAIR, vec![caught(&[900]), caught(&[100 * n])])).collect();
    assert_eq!(compared(&pond(), &days).pairs[0].correlation, None);
}

#[test]
fn the_curve_rises_to_the_weights_at_the_scales() {
    // Given 101 days on which a plan lands one to five fish of different mass,
    let mut scenario = pond();
    scenario.plans.truncate(1);
    let masses_g =
        |n: u32| -> Vec<u32> { (0..=n % 5).map(|k| 700 + 137 * ((n + k) % 11)).collect() };
    let days: Vec<DayOutcomes> =
        (1..=101).map(|n| day(n, FAIR, vec![caught(&masses_g(n))])).collect();
    let plan = &compared(&scenario, &days).plans[0];
    // then the curve ends with the same numbers, never falls, and its deciles are in order.
    let last = plan.curve.last().expect("an end");
    for (curve_kg, scales_kg) in [
        (last.mean_kg, plan.weight_kg.mean),
        (last.p10_kg, plan.weight_kg.p10),
        (last.p90_kg, plan.weight_kg.p90),
    ] {
        assert_eq!(curve_kg.to_bits(), scales_kg.to_bits(), "{curve_kg} and {scales_kg} kg");
    }
    for pair in plan.curve.windows(2) {
        let rises = pair[0].mean_kg <= pair[1].mean_kg
            && pair[0].p10_kg <= pair[1].p10_kg
            && pair[0].p90_kg <= pair[1].p90_kg;
        assert!(rises, "falls between {:?} and {:?}", pair[0], pair[1]);
    }
    // Half-way through, its deciles are those of the days, to half a per cent.
    let middle = &plan.curve[15];
    assert_near("minute", middle.minute, 15.0);
    let mut at_middle_g: Vec<u32> = days
        .iter()
        .map(|day| {
            let landed = day.outcomes[0].catches.iter();
            landed.filter(|fish| fish.at_s <= 900.0).map(|fish| fish.mass_g).sum()
        })
        .collect();
    at_middle_g.sort_unstable();
    for (rank, got_kg) in [(10, middle.p10_kg), (90, middle.p90_kg)] {
        let exact_kg = f64::from(at_middle_g[rank]) / 1000.0;
        assert!((got_kg - exact_kg).abs() <= 0.005 * exact_kg, "{got_kg} for {exact_kg} kg");
    }
}

#[test]
fn curves_are_taken_at_whole_minutes_and_at_the_end() {
    for (session_s, step_s, knots) in
        [(18_000.0, 120.0, 151), (1800.0, 60.0, 31), (90.0, 60.0, 3), (86_400.0, 600.0, 145)]
    {
        let at_s = curve_times_s(session_s);
        assert_eq!(at_s.len(), knots, "a session of {session_s} s");
        assert_near("first step [s]", at_s[1], step_s);
        assert_near("end [s]", at_s[knots - 1], session_s);
        assert!(at_s.windows(2).all(|pair| pair[0] < pair[1]), "{at_s:?}");
    }
}

#[test]
fn too_few_days_cause_a_warning() {
    let days: Vec<DayOutcomes> =
        (1..=100).map(|n| day(n, FAIR, vec![caught(&[900]), caught(&[800])])).collect();
    assert_eq!(kinds(&compared(&pond(), &days[..99])), ["few-days"]);
    assert_eq!(kinds(&compared(&pond(), &days)), [""; 0]);
}

#[test]
fn exceeded_limits_of_keepnet_and_bait_cause_a_warning() {
    let mut scenario = pond();
    scenario.keepnet = Some(Keepnet { limit_kg: 2.0, nets: 2 });
    scenario.plans[1].bait_limit_kg = Some(0.5);
    let mut heavy = caught(&[4100]);
    let mut greedy = caught(&[3900]);
    heavy.bait.feeder_kg = 0.6;
    (greedy.bait.feeder_kg, greedy.bait.loose_kg) = (0.3, 0.3);
    let days: Vec<DayOutcomes> =
        (1..=100).map(|n| day(n, FAIR, vec![heavy.clone(), greedy.clone()])).collect();
    let comparison = compared(&scenario, &days);
    assert_eq!(kinds(&comparison), ["keepnet", "bait-limit"], "{:?}", comparison.warnings);
    assert!(sentence(&comparison, 0).contains("often"), "{}", sentence(&comparison, 0));
    assert!(sentence(&comparison, 1).contains("without feed"), "{}", sentence(&comparison, 1));
    // In a pleasure session fish go back at once.
    scenario.kind = SessionKind::Pleasure;
    assert_eq!(kinds(&compared(&scenario, &days)), ["bait-limit"]);
    // A plan that uses all its bait has run out; one that uses less has not.
    scenario.plans[1].bait_limit_kg = Some(0.6);
    assert_eq!(kinds(&compared(&scenario, &days)), ["bait-limit"]);
    scenario.plans[1].bait_limit_kg = Some(0.7);
    assert_eq!(kinds(&compared(&scenario, &days)), [""; 0]);
}

#[test]
fn a_net_that_is_full_on_one_day_in_ten_causes_a_warning() {
    let mut scenario = pond();
    scenario.keepnet = Some(Keepnet { limit_kg: 2.0, nets: 2 });
    let light = |n: u32| if n.is_multiple_of(5) { caught(&[4100]) } else { caught(&[2000]) };
    let days: Vec<DayOutcomes> =
        (1..=100).map(|n| day(n, FAIR, vec![light(n), caught(&[1000])])).collect();
    let comparison = compared(&scenario, &days);
    assert_eq!(kinds(&comparison), ["keepnet"]);
    assert!(sentence(&comparison, 0).contains("one day in ten"), "{}", sentence(&comparison, 0));
}

#[test]
fn an_unclear_verdict_causes_a_warning_with_the_number_of_days_it_would_take() {
    let weights = |n: u32| [1090 + 1000 * (n % 2), 1500];
    let days: Vec<DayOutcomes> =
        (1..=100).map(|n| day(n, FAIR, weights(n).map(|g| caught(&[g])).to_vec())).collect();
    let comparison = compared(&pond(), &days);
    assert_eq!(kinds(&comparison), ["unclear"]);
    // Differences of −0.41 and 0.59 kg have mean 0.09 and standard error 0.05025 kg; the margin is 2 % of 1.59 kg.
    // Student's t for 100 days is 1.984, so the interval leaves zero out after (1.984 · 0.05025 / 0.09)² = 1.227 times as
    // many days.
    let message = sentence(&comparison, 0);
    assert!(
        message.contains(
            "often is not clearly better than seldom. If the lead stays as it is, about 130 days"
        ),
        "{message}"
    );
}

#[test]
fn a_parameter_held_at_an_end_of_its_range_causes_a_warning() {
    let mut scenario = pond();
    let row = scenario.books.fish.rows()[0].clone();
    scenario.books.fish.set(&row.key, row.range[1]).expect("within its range");
    let days: Vec<DayOutcomes> =
        (1..=100).map(|n| day(n, FAIR, vec![caught(&[900]), caught(&[800])])).collect();
    let comparison = compared(&scenario, &days);
    assert_eq!(kinds(&comparison), ["edge"]);
    assert!(sentence(&comparison, 0).contains(&row.key), "{}", sentence(&comparison, 0));
    scenario.books.fish.set(&row.key, row.value).expect("within its range");
    assert_eq!(kinds(&compared(&scenario, &days)), [""; 0], "the middle of a range is not its end");
}

#[test]
fn days_that_are_hard_on_fish_cause_a_warning() {
    let hot = Conditions { temperature_c: 25.5, ..FAIR };
    let foul = Conditions { oxygen_mg_l: 2.5, ..FAIR };
    let days: Vec<DayOutcomes> = (1..=100)
        .map(|n| {
            let weather = match n {
                3 | 9 => hot,
                50 => foul,
                _ => FAIR,
            };
            day(n, weather, vec![caught(&[900]), caught(&[800])])
        })
        .collect();
    let comparison = compared(&pond(), &days);
    assert_eq!(kinds(&comparison), ["warm-water", "low-oxygen"]);
    for (number, message) in ["On 2 of 100 days", "On 1 of 100 days"].into_iter().enumerate() {
        let sentence = sentence(&comparison, number);
        assert!(sentence.starts_with(message), "{sentence}");
        assert!(sentence.contains("fishery"), "the fishery decides: {sentence}");
    }
}

#[test]
fn a_plan_without_a_fish_causes_a_warning() {
    let days: Vec<DayOutcomes> =
        (1..=100).map(|n| day(n, FAIR, vec![caught(&[900]), caught(&[])])).collect();
    let comparison = compared(&pond(), &days);
    assert_eq!(kinds(&comparison), ["no-fish"]);
    // Nothing is divided by zero: only values that need a varying difference are missing.
    let plans = serde_json::to_string(&comparison.plans).expect("plans can be written");
    assert!(!plans.contains("null"), "{plans}");
    let mut pairs = comparison.pairs.clone();
    // Parts report a missing rate themselves.
    pairs.iter_mut().for_each(|pair| pair.factors.clear());
    let json = serde_json::to_string(&pairs).expect("pairs can be written");
    let missing = ["correlation", "days_saved_factor", "on_average", "unknowns_share"];
    assert_eq!(json.matches("null").count(), missing.len(), "{json}");
    for field in missing {
        assert!(json.contains(&format!(r#""{field}":null"#)), "{field} is there: {json}");
    }
}

#[test]
fn session_rows_have_one_row_a_plan_and_day() {
    let scenario = pond();
    let mut rows = SessionsCsv::new(Vec::new(), &scenario).expect("a header");
    let mut first = caught(&[900, 850]);
    first.bait.feeder_kg = 0.2;
    first.swim.bait_in_water_s = 600.0;
    first.swim.fish_on_line_s = 1500.0;
    first.swim.scared = 3;
    first.by_shoal = vec![ShoalCatch { fish: 2, weight_g: 1750 }];
    for n in 1..=2 {
        let day = day(n, FAIR, vec![first.clone(), caught(&[])]);
        rows.write(&scenario, &day).expect("rows");
    }
    let text = String::from_utf8(rows.finish().expect("an end")).expect("text");
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(
        lines,
        [
            "plan,day,weight_g,fish,bites,lost,foul_hooked,casts,bait_g,fish_on_line,scared,temperature_c,wind_m_s,\
             in_water_s,largest_g,first_fish_s,fish.small,weight_g.small",
            "often,1,1750,2,4,0,0,10,200.0,2.500,3,18.00,2.00,600.0,900,900.0,2,1750",
            "seldom,1,0,0,0,0,0,10,0.0,0.000,0,18.00,2.00,0.0,,,0,0",
            "often,2,1750,2,4,0,0,10,200.0,2.500,3,18.00,2.00,600.0,900,900.0,2,1750",
            "seldom,2,0,0,0,0,0,10,0.0,0.000,0,18.00,2.00,0.0,,,0,0",
        ]
    );
}

#[test]
fn rows_across_waters_have_the_shoals_of_all_and_leave_those_of_others_empty() {
    let mut other = pond();
    other.name = "=mere".to_owned();
    other.shoals[0].name = "roach".to_owned();
    let waters = [pond(), other];
    let mut rows = SessionsCsv::across_scenarios(Vec::new(), &waters).expect("a header");
    for water in &waters {
        let mut outcome = caught(&[900]);
        outcome.by_shoal = vec![ShoalCatch { fish: 1, weight_g: 900 }];
        rows.write(water, &day(1, FAIR, vec![outcome])).expect("rows");
    }
    let text = String::from_utf8(rows.finish().expect("an end")).expect("text");
    let ends: [(&str, &str); 3] = [
        ("scenario,plan,day,weight_g,", ",fish.small,weight_g.small,fish.roach,weight_g.roach"),
        ("pond,often,1,900,", ",900,1800.0,1,900,,"),
        ("'=mere,often,1,900,", ",900,1800.0,,,1,900"),
    ];
    assert_eq!(text.lines().count(), ends.len(), "{text}");
    for (line, (start, end)) in text.lines().zip(ends) {
        assert!(line.starts_with(start) && line.ends_with(end), "{line}");
    }
}
