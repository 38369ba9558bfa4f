//! V-321 and V-322: plans chosen by the simulator before and after it was fitted to a log.

use rayon::prelude::*;
use sim::angler::Plan;
use sim::engine::Dice;
use sim::scenario::{LearnedBook, Scenario, UnknownTarget};
use sim::study::{Control, NextSpec, what_to_try_next};

use super::practised::{PractisedWaters, compared_lead_kg};
use super::tally::Tally;
use super::waters::{FAMILY, SESSION_S, half_and_half, scenario};

/// How hard the waters are simulated.
struct Effort {
    /// Waters, each of which has the others as its simulated logs.
    logs: u32,
    /// How many of them are tried.
    waters: usize,
    /// Days on which the fitted simulator compares the plans.
    days: u32,
    /// Days on which the truth is measured.
    true_days: u32,
}

/// The leads of the first plan on some waters: the true ones, and those that each of several choices went by.
fn true_leads_kg(waters: &PractisedWaters<'_>, effort: &Effort) -> Vec<f64> {
    let lead_kg = |water| waters.true_lead_kg(water, effort.true_days);
    (0..effort.waters).into_par_iter().map(lead_kg).collect()
}

/// Leads by the simulator fitted to some sessions; where it was not fitted, the choice is the one without a log.
fn fitted_leads_kg(
    waters: &PractisedWaters<'_>,
    sessions: usize,
    unfitted_kg: f64,
    effort: &Effort,
) -> Vec<f64> {
    let lead_kg =
        |water| waters.fitted_lead_kg(water, sessions, effort.days).unwrap_or(unfitted_kg);
    (0..effort.waters).into_par_iter().map(lead_kg).collect()
}

/// Chooses with and without logs of some numbers of sessions on the waters of the family, and prints what came out.
fn chosen_after(sessions: &[usize], effort: &Effort) -> Vec<Tally> {
    let most = sessions.iter().copied().max().unwrap_or(0);
    let mut all: Vec<Tally> = sessions.iter().map(|_| Tally::default()).collect();
    for (name, text) in FAMILY {
        let scenario = scenario(name, text);
        let practice: Vec<Plan> =
            (0..most).map(|number| half_and_half(&scenario, number % 2)).collect();
        let waters = PractisedWaters::new(&scenario, &practice, 321, effort.logs);
        let unfitted_kg = compared_lead_kg(&scenario, 400);
        let truth_kg = true_leads_kg(&waters, effort);
        println!("{name}: {}", Tally::described(&truth_kg, unfitted_kg));
        for (&sessions, all) in sessions.iter().zip(&mut all) {
            let fitted_kg = fitted_leads_kg(&waters, sessions, unfitted_kg, effort);
            let mut by_log = Tally::default();
            let mut by_fit = Tally::default();
            for (water, (&truth_kg, &fitted_kg)) in truth_kg.iter().zip(&fitted_kg).enumerate() {
                by_fit.add(truth_kg, fitted_kg, unfitted_kg);
                all.add(truth_kg, fitted_kg, unfitted_kg);
                by_log.add(truth_kg, waters.logged_lead_kg(water, sessions), unfitted_kg);
            }
            println!("{name}, {sessions} sessions, fitted: {}", by_fit.sentence());
            println!(
                "{name}, {sessions} sessions, weights of the log alone: {}",
                by_log.sentence()
            );
        }
    }
    for (sessions, all) in sessions.iter().zip(&all) {
        println!("all, {sessions} sessions, fitted: {}", all.sentence());
    }
    all
}

/// V-321, in small: on one of the waters the fitted lead follows the true one from water to water.
#[test]
#[cfg_attr(debug_assertions, ignore = "thousands of sessions")]
fn the_fitted_lead_follows_the_true_one() {
    let effort = Effort { logs: 500, waters: 80, days: 30, true_days: 30 };
    let (name, text) = FAMILY[0];
    let scenario = scenario(name, text);
    let practice: Vec<Plan> = (0..10).map(|number| half_and_half(&scenario, number % 2)).collect();
    let waters = PractisedWaters::new(&scenario, &practice, 320, effort.logs);
    let truth_kg = true_leads_kg(&waters, &effort);
    let fitted_kg = fitted_leads_kg(&waters, 10, 0.0, &effort);
    let correlation = correlation(&truth_kg, &fitted_kg);
    println!("correlation of fitted and true leads {correlation:.2} over {} waters", effort.waters);
    // Leads that have nothing to do with each other have a correlation with a standard error of 1/√(n − 1).
    assert!(correlation > 4.0 / (effort.waters as f64 - 1.0).sqrt(), "{correlation}");
}

fn correlation(a: &[f64], b: &[f64]) -> f64 {
    let mean = |values: &[f64]| values.iter().sum::<f64>() / values.len() as f64;
    let (mean_a, mean_b) = (mean(a), mean(b));
    let sum = |of: &dyn Fn(f64, f64) -> f64| -> f64 {
        a.iter().zip(b).map(|(a, b)| of(a - mean_a, b - mean_b)).sum()
    };
    sum(&|a, b| a * b) / (sum(&|a, _| a * a) * sum(&|_, b| b * b)).sqrt()
}

/// V-321.
#[test]
#[ignore = "a quarter of a million sessions: three minutes of two cores"]
fn the_fitted_simulator_chooses_the_better_plan_more_often_after_2_5_and_10_sessions() {
    let effort = Effort { logs: 1200, waters: 70, days: 120, true_days: 120 };
    let tallies = chosen_after(&[2, 5, 10], &effort);
    // Two sessions are few: no worse than without a log, beyond what chance does once in 16 000.
    let [saved_kg, error_kg] = tallies[0].saved_kg();
    assert!(saved_kg > -4.0 * error_kg, "{saved_kg} kg ± {error_kg}");
    for tally in &tallies[1..] {
        let [more_often, error] = tally.more_often_right();
        assert!(more_often > 2.0 * error, "{more_often} ± {error}");
        let [saved_kg, error_kg] = tally.saved_kg();
        assert!(saved_kg > 2.0 * error_kg, "{saved_kg} kg ± {error_kg}");
    }
}

/// V-322: the practice that `learn --next` recommends, against the same hours on the favourite plan, where the plans fish different
/// lines.
#[test]
#[ignore = "seventy thousand sessions: a minute of two cores"]
fn recommended_practice_spares_more_wrong_choices_than_the_favourite_plan() {
    let effort = Effort { logs: 1200, waters: 100, days: 120, true_days: 120 };
    let (name, text) = FAMILY[0];
    let scenario = scenario(name, text);
    let in_doubt = with_stock_in_doubt(&scenario);
    let spec = NextSpec {
        scenario: &in_doubt,
        seed: 1,
        waters: 300,
        practice_s: SESSION_S,
        intervals_s: &[120.0, 300.0, 600.0],
    };
    let next = what_to_try_next(&spec, Control::default()).expect("two plans");
    let best = &next.practices[0];
    let favourite = next.practices.iter().find(|worth| worth.is_favourite).expect("a plan");
    for worth in &next.practices {
        println!(
            "{:?} {} every {} s settles {:.0} ± {:.0} %",
            worth.practice.kind,
            worth.practice.lines.join(", then "),
            worth.practice.recast_s,
            100.0 * worth.settled_share,
            100.0 * worth.settled_se,
        );
    }
    println!(
        "{} every {} s settles {:.0} %, the favourite {} {:.0} %",
        best.practice.lines.join(", then "),
        best.practice.recast_s,
        100.0 * best.settled_share,
        next.favourite,
        100.0 * favourite.settled_share,
    );
    let unfitted_kg = compared_lead_kg(&scenario, 400);
    let leads = [best, favourite].map(|worth| {
        let practice = vec![worth.practice.plan.clone(); 2];
        let waters = PractisedWaters::new(&scenario, &practice, 322, effort.logs);
        (true_leads_kg(&waters, &effort), fitted_leads_kg(&waters, 2, unfitted_kg, &effort))
    });
    let [(truth_kg, best_kg), (same_truth_kg, favourite_kg)] = leads;
    assert_eq!(truth_kg, same_truth_kg, "the same waters");
    let mut tally = Tally::default();
    for (water, &truth_kg) in truth_kg.iter().enumerate() {
        tally.add(truth_kg, best_kg[water], favourite_kg[water]);
    }
    println!("recommended against favourite: {}", tally.sentence());
    let [saved_kg, error_kg] = tally.saved_kg();
    assert!(saved_kg > 2.0 * error_kg, "{saved_kg} kg ± {error_kg}");
    assert!(best.practice.lines.len() == 2, "{:?}", best.practice.lines);
}

/// The scenario with the number of fish of its shoals in doubt, as before a log.
fn with_stock_in_doubt(scenario: &Scenario) -> Scenario {
    let stock: Vec<_> = scenario
        .unknowns()
        .into_iter()
        .filter(|unknown| matches!(unknown.target, UnknownTarget::StockFactor(_)))
        .collect();
    let mut dice = Dice::from_key(&[322]);
    let draw = |_| stock.iter().map(|unknown| unknown.parameter.draw(&mut dice)).collect();
    let draws = (0..500).map(draw).collect();
    let targets = stock.iter().map(|unknown| unknown.target).collect();
    let mut in_doubt = scenario.clone();
    in_doubt.lay_over(LearnedBook { sha256: String::new(), text: String::new(), targets, draws });
    in_doubt
}
