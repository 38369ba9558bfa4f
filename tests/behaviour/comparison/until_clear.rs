//! A comparison that stops when its verdicts are clear.

use std::sync::atomic::AtomicBool;

use sim::report::warning_text;
use sim::scenario::{Scenario, Units};
use sim::stats::Verdict;
use sim::study::{CompareResult, Comparison, Control, NoProgress, StopReason, compare_until_clear};
use statrs::distribution::{ContinuousCDF, StudentsT};

use crate::pond::{compared, ignored, plan, pond};

fn until_clear(scenario: &Scenario, limit_days: u32) -> Comparison {
    match compare_until_clear(scenario, 1, limit_days, Control::default(), ignored) {
        Ok(CompareResult::Done(comparison)) => *comparison,
        other => panic!("it was not stopped: {other:?}"),
    }
}

#[test]
fn a_comparison_stops_at_the_first_interim_analysis_with_a_clear_verdict() {
    // Two plans on the pond, one of which hardly fishes.
    let mut scenario = pond();
    scenario.plans[0].phases[0].tackle.recast_s = 240.0;
    scenario.plans[1].phases[0].tackle.recast_s = 1500.0;
    let comparison = until_clear(&scenario, 3200);
    assert_eq!((comparison.days, comparison.stopped_because), (200, StopReason::Clear));
    assert_eq!(
        (comparison.rule.analyses, comparison.rule.max_analyses, comparison.rule.pairs),
        (1, 5, 1)
    );
    assert_eq!(
        comparison.pairs[0].verdict,
        Verdict::Better,
        "{:?}",
        comparison.pairs[0].difference_kg
    );
    // The days are those of a run with a fixed number of days; only the intervals may be narrower.
    let fixed_days = compared(&scenario, 1, 200);
    assert_eq!(comparison.plans, fixed_days.plans);
    assert!(fixed_days.pairs[0].difference_kg.low95() > comparison.pairs[0].difference_kg.low95());
    assert_eq!(comparison.pairs[0].superiority, fixed_days.pairs[0].superiority);
}

#[test]
fn two_copies_of_a_plan_are_equivalent_at_the_first_analysis() {
    let mut scenario = pond();
    scenario.plans = vec![plan("one", 120.0), plan("same", 120.0)];
    let comparison = until_clear(&scenario, 3200);
    assert_eq!((comparison.days, comparison.stopped_because), (200, StopReason::Clear));
    assert_eq!(comparison.pairs[0].verdict, Verdict::Equivalent);
    let two_days = comparison.pairs[0].superiority.independent_days.expect("days");
    assert!((two_days.value - 0.5).abs() < 1e-12, "{two_days:?}");
    assert!(comparison.pairs[0].superiority.same_day.value <= 0.0, "a tie is won by neither");
}

#[test]
fn a_verdict_unclear_at_the_limit_says_so_with_the_days_it_would_take() {
    let mut scenario = pond();
    scenario.plans = vec![plan("one", 120.0), plan("nearly-the-same", 120.2)];
    scenario.aims.margin_kg = Some(0.001);
    let comparison = until_clear(&scenario, 30);
    assert_eq!((comparison.days, comparison.stopped_because), (30, StopReason::Limit));
    assert_eq!(comparison.pairs[0].verdict, Verdict::Inconclusive);
    let unclear = comparison.warnings.iter().find(|warning| warning.kind() == "unclear");
    let message = warning_text(unclear.expect("a warning"), Units::Metric);
    assert!(message.contains("not clearly better than") && message.contains("days"), "{message}");
    // A margin larger than any difference is reached at once.
    scenario.aims.margin_kg = Some(50.0);
    assert_eq!(until_clear(&scenario, 30).stopped_because, StopReason::Clear);
}

#[test]
fn the_chance_of_error_is_shared_over_all_analyses_and_pairs() {
    let mut scenario = pond();
    scenario.plans.push(plan("rarely", 1500.0));
    let comparison = until_clear(&scenario, 3200);
    // Three plans are three pairs, and a run of up to 3,200 days is analysed up to five times.
    assert_eq!((comparison.rule.pairs, comparison.rule.max_analyses), (3, 5));
    assert!((comparison.rule.level_of_each - (1.0 - 0.05 / 15.0)).abs() < 1e-12);
    // The intervals have that level; on fixed days there is one analysis of three pairs.
    let fixed_days = compared(&scenario, 1, comparison.days);
    let width = |comparison: &Comparison| {
        let interval = comparison.pairs[0].difference_kg.interval.expect("there are days enough");
        interval.high - interval.low
    };
    let student = StudentsT::new(0.0, 1.0, f64::from(comparison.days - 1)).expect("a distribution");
    let quantile = |error: f64| student.inverse_cdf(1.0 - error / 2.0);
    let expected = quantile(0.05 / 15.0) / quantile(0.05 / 3.0);
    let ratio = width(&comparison) / width(&fixed_days);
    assert!((ratio - expected).abs() < 1e-6, "{ratio} is not {expected}");
}

#[test]
fn plans_are_level_within_two_per_cent_of_the_heaviest_if_no_scenario_says_more() {
    let comparison = compared(&pond(), 1, 30);
    let heaviest_kg = comparison.plans.iter().map(|plan| plan.weight_kg.mean);
    let heaviest_kg = heaviest_kg.fold(0.0, f64::max);
    assert!(heaviest_kg > 0.0);
    assert!((comparison.rule.margin_kg - 0.02 * heaviest_kg).abs() < 1e-12 * heaviest_kg);
}

#[test]
fn a_single_plan_has_no_pair_to_compare() {
    let mut scenario = pond();
    scenario.plans.truncate(1);
    let comparison = until_clear(&scenario, 20);
    assert_eq!((comparison.days, comparison.stopped_because), (20, StopReason::Clear));
    assert!(comparison.pairs.is_empty() && comparison.aims[0].not_clearly_worse.is_empty());
}

#[test]
fn a_stopped_comparison_reports_the_finished_days() {
    let stop = AtomicBool::new(true);
    let control = Control { progress: &NoProgress, stop: &stop };
    let comparison = compare_until_clear(&pond(), 1, 3200, control, ignored);
    assert_eq!(comparison, Ok(CompareResult::Interrupted { days: 0 }));
}
