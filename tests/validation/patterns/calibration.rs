//! Calibration of two priors without a published value: results of the related patterns over their ranges.

use sim::session::Outcome;

use super::gathering::gini;
use super::sessions::{days, fished, stays, watched, z_of};
use crate::demo::demo;
use crate::evidence::mean;

/// Mass landed in the last hour [kg].
fn last_hour_kg(outcomes: &[Outcome]) -> Vec<f64> {
    let late = |outcome: &Outcome| -> f64 {
        let catches = outcome.catches.iter().filter(|catch| catch.at_s > 14_400.0);
        catches.map(|catch| f64::from(catch.mass_g) / 1000.0).sum()
    };
    outcomes.iter().map(late).collect()
}

/// `cargo test --release --test validation calibration -- --ignored --nocapture` prints the table in VALIDATION.md;
/// days 1 to 100 (visits) and 1 to 400 (priming) of the patterns' seed.
#[test]
#[ignore = "prints a table for whoever sets the priors"]
fn calibration_of_responsiveness_and_return() {
    println!("habit_cv  return_share  Gini  primed kg  fed late kg  z");
    for habit_cv in [0.8, 1.2, 1.6] {
        for return_share in [0.2, 0.4, 0.6, 0.8] {
            let priors = [
                format!("book.fish.habit_cv={habit_cv}"),
                format!("book.fish.return_share={return_share}"),
            ];
            let with = |more: &[&str]| {
                let sets: Vec<&str> =
                    priors.iter().map(String::as_str).chain(more.iter().copied()).collect();
                demo(&sets)
            };
            let water = with(&[]);
            let visits = days(&water, 100, |day| {
                let mut visits = vec![0.0; day.stock.len()];
                for stay in stays(&watched(&water, 0, day).0, day.stock.len()) {
                    visits[stay.fish.0] += 1.0;
                }
                gini(&visits)
            });
            let late = |before: &str| {
                let before = format!("plan.island-then-open.phase.1.feed.open.amount={before}");
                let water = with(&[
                    "plan.island-then-open.phase.1.until=4 h",
                    "plan.island-then-open.phase.2.recast=6 min",
                    &before,
                    "plan.island-then-open.phase.2.feed.open.amount=4 g",
                ]);
                last_hour_kg(&fished(&water, "island-then-open", 400))
            };
            let (primed, late) = (late("4 g"), late("0 g"));
            println!(
                "{habit_cv:8}  {return_share:12}  {:.2}  {:9.2}  {:11.2}  {:+.1}",
                mean(&visits),
                mean(&primed),
                mean(&late),
                z_of(&primed, &late)
            );
        }
    }
}
