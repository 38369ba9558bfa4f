//! Which assumed numbers turn the demo's verdict over.

use std::fmt::Write;

use rayon::prelude::*;
use sim::params::Grade;
use sim::scenario::Scenario;
use sim::session::{Day, run_session};

use super::page::write_part;
use crate::demo::scenario;
use crate::evidence::{mean, standard_error};

/// Days of each plan.
const DAYS: u32 = 100;
const DEMO: &str = "scenarios/tern-bar.toml";

/// Weights of every plan on the same days [kg].
fn weights_kg(scenario: &Scenario) -> Vec<Vec<f64>> {
    let days: Vec<Vec<f64>> = (1..=DAYS)
        .into_par_iter()
        .map(|number| {
            let day = Day::draw(scenario, 1, number);
            let kg = |plan| run_session(scenario, plan, &day).weight_g as f64 / 1e3;
            scenario.plans.iter().map(kg).collect()
        })
        .collect();
    (0..scenario.plans.len()).map(|plan| days.iter().map(|day| day[plan]).collect()).collect()
}

/// Index of the heaviest plan.
fn best(weights: &[Vec<f64>]) -> usize {
    (0..weights.len()).max_by(|a, b| mean(&weights[*a]).total_cmp(&mean(&weights[*b]))).unwrap_or(0)
}

/// Writes the table of rows that change which plan of the demo is heaviest.
#[test]
#[ignore = "writes a part of tests/TABLES.md; takes some ten minutes"]
fn flips() {
    let demo = scenario(DEMO, &[]);
    let names: Vec<&str> = demo.plans.iter().map(|plan| plan.name.as_str()).collect();
    let whole = weights_kg(&demo);
    let first = best(&whole);
    let (mut rows, mut tried, mut clear) = (String::new(), 0, 0);
    for book in demo.books.all() {
        for row in book.rows().iter().filter(|row| row.grade == Grade::Assumed) {
            tried += 1;
            for (end, value) in ["low", "high"].iter().zip(row.range) {
                let pinned = scenario(DEMO, &[&format!("book.{}.{}={value}", book.name, row.key)]);
                let weights = weights_kg(&pinned);
                let heaviest = best(&weights);
                if heaviest == first {
                    continue;
                }
                let ahead: Vec<f64> =
                    weights[heaviest].iter().zip(&weights[first]).map(|(a, b)| a - b).collect();
                let (kg, error) = (mean(&ahead), standard_error(&ahead));
                let z = kg / error;
                clear += u32::from(z > 2.0);
                let _ = writeln!(
                    rows,
                    "| `{}.{}` | {end}: {value} | {} | {kg:+.2} ± {error:.2} kg | {z:+.1} |",
                    book.name, row.key, names[heaviest]
                );
            }
        }
    }
    let second = (0..whole.len()).filter(|&plan| plan != first);
    let second = second.max_by(|a, b| mean(&whole[*a]).total_cmp(&mean(&whole[*b]))).unwrap_or(0);
    let lead: Vec<f64> = whole[first].iter().zip(&whole[second]).map(|(a, b)| a - b).collect();
    let text = format!(
        "{DAYS} days of `{DEMO}`, seed 1. With all rows drawn, `{}` is heaviest, {:.2} ± {:.2} kg before `{}`. Of \
         {tried} assumed rows, each set to either end of its range, these put another plan first; {clear} of them by more \
         than two standard errors.\n\n| row | set to | heaviest | ahead by | z |\n|---|---|---|---|---|\n{rows}",
        names[first],
        mean(&lead),
        standard_error(&lead),
        names[second]
    );
    write_part("Assumed numbers that turn the demo's verdict over", &text);
}
