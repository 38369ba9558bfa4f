//! V-321 and V-322: plans chosen by the simulator before and after it was fitted to a log.

use rayon::prelude::*;
use sim::angler::Plan;
use sim::engine::Dice;
use sim::scenario::{LearnedBook, Scenario, UnknownTarget};
use sim::study::{Control, NextSpec, PracticeWorth, what_to_try_next};

use super::practised::{PractisedWaters, compared_lead_kg};
use super::tally::{Tally, mean_and_error};
use super::waters::{FAMILY, SESSION_S, half_and_half, scenario};
use crate::measured::measured;

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

/// Choices after one number of practice sessions, each against that without a log.
#[derive(Default)]
struct ChosenAfter {
    by_fit: Tally,
    /// By the weights of the log alone.
    by_log: Tally,
}

/// Chooses with and without logs of some numbers of sessions on the waters of the family, and prints what came out.
fn chosen_after(sessions: &[usize], effort: &Effort) -> Vec<ChosenAfter> {
    let most = sessions.iter().copied().max().unwrap_or(0);
    let mut all: Vec<ChosenAfter> = sessions.iter().map(|_| ChosenAfter::default()).collect();
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
            let mut here = ChosenAfter::default();
            for (water, (&truth_kg, &fitted_kg)) in truth_kg.iter().zip(&fitted_kg).enumerate() {
                let logged_kg = waters.logged_lead_kg(water, sessions);
                for chosen in [&mut here, all] {
                    chosen.by_fit.add(truth_kg, fitted_kg, unfitted_kg);
                    chosen.by_log.add(truth_kg, logged_kg, unfitted_kg);
                }
            }
            println!("{name}, {sessions} sessions, fitted: {}", here.by_fit.sentence());
            println!("{name}, {sessions} sessions, by weight: {}", here.by_log.sentence());
        }
    }
    for (sessions, all) in sessions.iter().zip(&all) {
        println!("all, {sessions} sessions, fitted: {}", all.by_fit.sentence());
        println!("all, {sessions} sessions, by weight: {}", all.by_log.sentence());
    }
    all
}

/// What came out of all, in words; `missed` says of what the bound is missed.
fn described(sessions: &[usize], all: &[ChosenAfter], missed: &[String]) -> String {
    let missed = if missed.is_empty() {
        String::new()
    } else {
        format!("**Missed**: {}. ", missed.join(", "))
    };
    let [_, unfitted] = all[0].by_fit.right_percent();
    let [_, unfitted_kg] = all[0].by_fit.mean_lost_kg();
    let after = sessions.iter().zip(all).map(|(sessions, chosen)| {
        let ChosenAfter { by_fit, by_log } = chosen;
        let [more, more_error] = by_fit.more_often_right().map(|share| 100.0 * share);
        let [saved_kg, saved_error_kg] = by_fit.saved_kg();
        format!(
            "fitted to {sessions} sessions {:.1} %, {more:+.1} ± {:.1} points, {saved_kg:.2} ± {:.2} kg saved (by the weights of the log alone {:.1} %, {:.2} kg lost)",
            by_fit.right_percent()[0],
            1.96 * more_error,
            1.96 * saved_error_kg,
            by_log.right_percent()[0],
            by_log.mean_lost_kg()[0]
        )
    });
    format!(
        "{missed}Right on {unfitted:.1} % without a log, {unfitted_kg:.2} kg a day lost; {}",
        after.collect::<Vec<_>>().join("; ")
    )
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
    measured!("V-321", "Correlation {correlation:.2} over {} waters", effort.waters);
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
#[ignore = "half a million sessions: four minutes of two cores"]
fn the_fitted_simulator_chooses_the_better_plan_more_often_after_2_5_and_10_sessions() {
    let effort = Effort { logs: 1200, waters: 120, days: 120, true_days: 120 };
    let sessions = [2, 5, 10];
    let all = chosen_after(&sessions, &effort);
    let mut missed = Vec::new();
    // Two sessions are few: no worse than without a log, beyond what chance does once in 16 000.
    let [saved_kg, error_kg] = all[0].by_fit.saved_kg();
    if saved_kg < -4.0 * error_kg {
        missed.push("weight after 2 sessions".to_owned());
    }
    for (sessions, chosen) in sessions[1..].iter().zip(&all[1..]) {
        for (what, [more, error]) in [
            ("share of right choices", chosen.by_fit.more_often_right()),
            ("weight", chosen.by_fit.saved_kg()),
        ] {
            if more < 2.0 * error {
                missed.push(format!("{what} after {sessions} sessions"));
            }
        }
    }
    measured!("V-321", "{}", described(&sessions, &all, &missed));
    assert!(missed.is_empty(), "{missed:?}");
}

/// What a practice that `learn --next` recommends is worth on one kind of water against the same hours on the favourite plan.
struct Recommended {
    /// Choices by the one against choices by the other.
    tally: Tally,
    /// By how much the squared error of the fitted lead is smaller, on each water [kg²].
    narrower_kg2: Vec<f64>,
    /// Number of lines that the recommended practice fishes.
    lines: usize,
    /// What is recommended, and what it settles.
    words: String,
}

impl Recommended {
    fn new(name: &str, text: &str, effort: &Effort) -> Self {
        let scenario = scenario(name, text);
        let in_doubt = with_stock_in_doubt(&scenario);
        let spec = NextSpec {
            scenario: &in_doubt,
            seed: 1,
            waters: 1000,
            practice_s: SESSION_S,
            intervals_s: &[120.0, 300.0, 600.0],
        };
        let next = what_to_try_next(&spec, Control::default()).expect("two plans");
        let in_words = |worth: &PracticeWorth| {
            format!(
                "{} every {} s settles {:.0} ± {:.0} %",
                worth.practice.lines.join(", then "),
                worth.practice.recast_s,
                100.0 * worth.settled_share,
                196.0 * worth.settled_se,
            )
        };
        for worth in &next.practices {
            println!("{name}: {:?} {}", worth.practice.kind, in_words(worth));
        }
        let best = &next.practices[0];
        let favourite = next.practices.iter().find(|worth| worth.is_favourite).expect("a plan");
        let unfitted_kg = compared_lead_kg(&scenario, 400);
        let leads = [best, favourite].map(|worth| {
            let practice = vec![worth.practice.plan.clone(); 2];
            let waters = PractisedWaters::new(&scenario, &practice, 322, effort.logs);
            (true_leads_kg(&waters, effort), fitted_leads_kg(&waters, 2, unfitted_kg, effort))
        });
        let [(truth_kg, best_kg), (same_truth_kg, favourite_kg)] = leads;
        assert_eq!(truth_kg, same_truth_kg, "the same waters");
        let mut tally = Tally::default();
        let mut narrower_kg2 = Vec::new();
        for (water, &truth_kg) in truth_kg.iter().enumerate() {
            tally.add(truth_kg, best_kg[water], favourite_kg[water]);
            let squared = |lead_kg: f64| (lead_kg - truth_kg).powi(2);
            narrower_kg2.push(squared(favourite_kg[water]) - squared(best_kg[water]));
        }
        println!("{name}: {}", tally.sentence());
        let words = format!("{name}: {}, the favourite {}", in_words(best), in_words(favourite));
        Self { tally, narrower_kg2, lines: best.practice.lines.len(), words }
    }
}

/// V-322: the practice that `learn --next` recommends, against the same hours on the favourite plan, where the plans fish different
/// lines.
#[test]
#[ignore = "four hundred thousand sessions: four minutes of two cores"]
fn recommended_practice_spares_more_wrong_choices_than_the_favourite_plan() {
    let effort = Effort { logs: 1200, waters: 200, days: 120, true_days: 120 };
    let kinds = [FAMILY[0], FAMILY[1]].map(|(name, text)| Recommended::new(name, text, &effort));
    assert_eq!(kinds[0].lines, 2, "where both lines are in doubt, both are practised");
    let narrower_kg2 = kinds.iter().flat_map(|kind| kind.narrower_kg2.iter().copied());
    let [narrower_kg2, its_error_kg2] = mean_and_error(narrower_kg2);
    let words: Vec<&str> = kinds.iter().map(|kind| kind.words.as_str()).collect();
    let words = words.join("; ");
    let mut tally = Tally::default();
    kinds.into_iter().for_each(|kind| tally.take(kind.tally));
    let [saved_kg, error_kg] = tally.saved_kg();
    let is_met = [saved_kg > 2.0 * error_kg, narrower_kg2 > 2.0 * its_error_kg2];
    let missed = match is_met {
        [true, true] => "",
        [false, true] => "**Missed** for the weight: ",
        [true, false] => "**Missed** for the doubt: ",
        [false, false] => "**Missed**: ",
    };
    measured!(
        "V-322",
        "{missed}Recommended against favourite: {}; squared error of the lead smaller by {narrower_kg2:.2} ± {:.2} kg². {words}",
        tally.sentence(),
        1.96 * its_error_kg2
    );
    assert_eq!(
        is_met,
        [true, true],
        "{saved_kg} kg ± {error_kg}, {narrower_kg2} kg² ± {its_error_kg2}"
    );
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
