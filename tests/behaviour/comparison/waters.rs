//! Plans of several waters, each on days of its own.

use std::convert::Infallible;

use sim::report::{waters_notes, waters_table, waters_verdict};
use sim::scenario::{Scenario, Units};
use sim::stats::Verdict;
use sim::study::{
    CompareWaters, Control, DayOutcomes, PairDays, StopReason, WatersComparison, WatersOutcome,
};

use crate::pond::{compared, plan, pond};

/// The pond, and the same pond with hardly a fish, under another name.
fn ponds() -> [Scenario; 2] {
    let mut poor = pond();
    poor.name = "poor".to_owned();
    for shoal in &mut poor.shoals {
        shoal.count = sim::params::DailyDistribution::Fixed(6.0);
    }
    [pond(), poor]
}

fn run_each(
    comparing: CompareWaters<'_>,
    each: impl FnMut(usize, &DayOutcomes),
) -> WatersComparison {
    let mut each = each;
    let deliver = |water: usize, day: &DayOutcomes| {
        each(water, day);
        Ok::<(), Infallible>(())
    };
    match comparing.run_with(Control::default(), deliver) {
        Ok(WatersOutcome::Done(waters)) => *waters,
        other => panic!("it was not stopped: {other:?}"),
    }
}

fn run(comparing: CompareWaters<'_>) -> WatersComparison {
    run_each(comparing, |_, _| {})
}

#[test]
fn each_water_has_the_days_of_a_seed_of_its_own() {
    let waters = ponds();
    let both = run(CompareWaters::new(&waters).seed(7).days(40));
    for (index, water) in waters.iter().enumerate() {
        let alone = compared(water, 7 + index as u64, 40);
        assert_eq!(both.waters[index].plans, alone.plans, "water {index}");
        assert_eq!(both.waters[index].stamp.seed, 7 + index as u64);
    }
    assert_eq!((both.days, both.stopped_because), (40, StopReason::Requested));
    // Two copies of one water under two names have different days too.
    let mut copies = [pond(), pond()];
    copies[1].name = "copy".to_owned();
    let copied = run(CompareWaters::new(&copies).days(40));
    assert_ne!(copied.waters[0].plans[0].weight_kg, copied.waters[1].plans[0].weight_kg);
}

#[test]
fn plans_of_two_waters_are_compared_as_wholes_and_those_of_one_day_by_day() {
    let waters = ponds();
    let both = run(CompareWaters::new(&waters).days(60));
    assert_eq!(both.pairs.len(), 6, "four plans");
    for pair in &both.pairs {
        let find = |name: &sim::study::WaterPlan| {
            let water = both.waters.iter().find(|water| water.stamp.scenario == name.water);
            let plans = &water.expect("a water").plans;
            plans.iter().find(|plan| plan.name == name.plan).expect("a plan").weight_kg
        };
        let (a, b) = (find(&pair.a), find(&pair.b));
        let is_near = |got: f64, expected: f64| (got - expected).abs() < 1e-9;
        assert!(is_near(pair.difference_kg.value, a.mean - b.mean), "{pair:?}");
        let se = pair.difference_se_kg.expect("an error");
        let unpaired = a.se.expect("an error").hypot(b.se.expect("an error"));
        if pair.a.water == pair.b.water {
            assert_eq!(pair.days, PairDays::Same);
            assert!(!is_near(se, unpaired), "same days tell more, or less, than days apart");
            let alone = &both.waters.iter().find(|w| w.stamp.scenario == pair.a.water);
            let paired = &alone.expect("a water").pairs[0];
            assert_eq!(pair.difference_kg, paired.difference_kg);
            assert_eq!(pair.verdict, paired.verdict);
        } else {
            assert_eq!(pair.days, PairDays::Own);
            assert!(is_near(se, unpaired), "{se} is not that of two independent samples");
            let freedom = pair.degrees_of_freedom.expect("days");
            assert!((59.0..=118.0).contains(&freedom), "{freedom}");
        }
        // The interval holds for all six pairs at once.
        let half = pair.difference_kg.high95().expect("an end") - pair.difference_kg.value;
        assert!((2.6..2.9).contains(&(half / se)), "{}", half / se);
    }
    assert_eq!(both.rule.pairs, 6);
}

#[test]
fn the_richer_water_wins_clearly_and_the_verdict_stops_the_run() {
    let mut waters = ponds();
    waters.iter_mut().for_each(|water| water.plans.truncate(1));
    let mut days = Vec::new();
    let both = run_each(CompareWaters::new(&waters), |water, day| days.push((water, day.number)));
    assert_eq!((both.days, both.stopped_because), (200, StopReason::Clear), "{:?}", both.pairs);
    let expected: Vec<(usize, u32)> =
        (0..2).flat_map(|water| (1..=200).map(move |day| (water, day))).collect();
    assert_eq!(days, expected, "blocks of 200 days, water after water");
    let across = both.pairs.iter().filter(|pair| pair.days == PairDays::Own);
    for pair in across {
        assert_eq!((pair.a.water.as_str(), pair.verdict), ("pond", Verdict::Better));
        assert!(pair.independent_days.expect("days").low95().expect("an end") > 0.5);
    }
    let sentences = waters_verdict(&both, Units::Metric).join("\n");
    assert!(sentences.contains("200 days on each water (pond seed 1, poor seed 2)"), "{sentences}");
    assert!(sentences.contains("beats poor: "), "{sentences}");
    assert!(sentences.contains("each on days of its own"), "{sentences}");
}

#[test]
fn two_equal_waters_are_never_called_different_for_their_names() {
    let mut waters = [pond(), pond()];
    waters[1].name = "twin".to_owned();
    for water in &mut waters {
        water.plans = vec![plan("only", 120.0)];
    }
    let both = run(CompareWaters::new(&waters).days(200));
    assert_eq!(both.pairs.len(), 1);
    assert!(!matches!(both.pairs[0].verdict, Verdict::Better | Verdict::Worse), "{:?}", both.pairs);
}

#[test]
fn rows_name_water_and_plan_and_sessions_of_different_length_are_pointed_out() {
    let mut waters = ponds();
    waters[1].session_s = 1200.0;
    for plan in &mut waters[1].plans {
        plan.phases[0].until_s = 1200.0;
    }
    let both = run(CompareWaters::new(&waters).days(20));
    let table = waters_table(&both, Units::Metric, 100);
    let names = waters
        .iter()
        .flat_map(|water| water.plans.iter().map(|plan| format!("{}: {}", water.name, plan.name)));
    for name in names {
        assert_eq!(table.matches(&name).count(), 1, "{name} in\n{table}");
    }
    assert!(!table.contains("best on"), "no day was common to all\n{table}");
    let notes = waters_notes(&both, Units::Metric).join("\n");
    assert!(notes.contains("pond 30\u{a0}min, poor 20\u{a0}min"), "{notes}");
    let svg = sim::report::water_curves_svg(&both, Units::Metric);
    assert!(svg.contains("20 days on each water"), "the title");
}
