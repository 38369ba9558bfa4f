//! How two priors without a published value were set: the related patterns over their ranges.

use std::fmt::Write;

use sim::session::Outcome;

use super::page::write_part;
use crate::demo::demo;
use crate::evidence::{mean, standard_error};
use crate::patterns::{days, fished, gini, stays, watched};

/// Mass landed in the last hour [kg].
fn last_hour_kg(outcomes: &[Outcome]) -> Vec<f64> {
    let late = |outcome: &Outcome| -> f64 {
        let catches = outcome.catches.iter().filter(|catch| catch.at_s > 14_400.0);
        catches.map(|catch| f64::from(catch.mass_g) / 1000.0).sum()
    };
    outcomes.iter().map(late).collect()
}

/// Gini coefficient of visits on days 1 to 100, with the first plan.
fn visits(priors: &[&str]) -> f64 {
    let water = demo(priors);
    let of_days = days(&water, 100, |day| {
        let mut visits = vec![0.0; day.stock.len()];
        for stay in stays(&watched(&water, 0, day).0, day.stock.len()) {
            visits[stay.fish.0] += 1.0;
        }
        gini(&visits)
    });
    mean(&of_days)
}

/// Mass landed in the last hour on days 1 to 400, on a line that is loose-fed with an amount before [kg].
fn late_kg(priors: &[&str], before: &str) -> Vec<f64> {
    let before = format!("plan.island-then-open.phase.1.feed.open.amount={before}");
    let sets = [
        "plan.island-then-open.phase.1.until=4 h",
        "plan.island-then-open.phase.2.recast=6 min",
        &before,
        "plan.island-then-open.phase.2.feed.open.amount=4 g",
    ];
    let sets: Vec<&str> = priors.iter().copied().chain(sets).collect();
    last_hour_kg(&fished(&demo(&sets), "island-then-open", 400))
}

/// V-392: writes the table from which the priors of responsiveness and return were set.
#[test]
#[ignore = "writes a part of tests/TABLES.md; takes some minutes"]
fn priors() {
    let mut rows = String::new();
    for habit_cv in [0.8, 1.2, 1.6] {
        for return_share in [0.2, 0.4, 0.6, 0.8] {
            let habit = format!("book.fish.habit_cv={habit_cv}");
            let returns = format!("book.fish.return_share={return_share}");
            let priors = [habit.as_str(), returns.as_str()];
            let (primed, late) = (late_kg(&priors, "4 g"), late_kg(&priors, "0 g"));
            let ahead: Vec<f64> = primed.iter().zip(&late).map(|(a, b)| a - b).collect();
            let z = mean(&ahead) / standard_error(&ahead);
            let _ = writeln!(
                rows,
                "| {habit_cv} | {return_share} | {:.2} | {:.2} | {:.2} | {z:+.1} |",
                visits(&priors),
                mean(&primed),
                mean(&late)
            );
        }
    }
    let text = format!(
        "Two priors of the fish's book have no published value and decide patterns 6 and 15: how much fish differ in their \
         responsiveness to feed, and how readily they return to where they fed. Gini coefficient of visits on `two-minutes` \
         (100 days of `tests/waters/two-shoals.toml`; published 0.66 and 0.79 over weeks), and the mass of the last hour of \
         `island-then-open`, primed from the start and fed from the change on (400 days).\n\n\
         | habit_cv | return_share | Gini | primed, kg | fed late, kg | z |\n|---|---|---|---|---|---|\n{rows}"
    );
    write_part("How two priors were set", &text);
}
