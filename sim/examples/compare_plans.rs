//! A comparison from code: how long should the feeder stay out before it is recast?
//!
//! Run with `cargo run --release --example compare_plans`.

use std::error::Error;

use sim::{Compare, DayOutcomes, Verdict, read};

const SEED: u64 = 1;
const DAYS: u32 = 60;

/// A scenario text; everything that it leaves out has a default.
const POND: &str = r#"
    title = "How often to recast"

    session.length = "3 h"

    line.far-bank.distance = "25 m"

    shoal.residents.count = 60
    shoal.residents.weight = "1.5 kg"
    shoal.residents.home = "far-bank"

    plan.base.recast = "10 min"
"#;

fn main() -> Result<(), Box<dyn Error>> {
    let mut scenario = read(POND, "pond", &[])?;

    // Plans are plain data: copy the one in the text and change the time between casts.
    let base = scenario.plans.remove(0);
    for minutes in [2.0, 5.0, 10.0, 20.0] {
        let mut plan = base.clone();
        plan.name = format!("every {minutes} min");
        plan.phases.iter_mut().for_each(|phase| phase.tackle.recast_s = 60.0 * minutes);
        scenario.plans.push(plan);
    }

    // The closure gets every day in order, as soon as it is done.
    let mut blanks = vec![0; scenario.plans.len()];
    let count_blanks = |day: &DayOutcomes| {
        for (count, outcome) in blanks.iter_mut().zip(&day.outcomes) {
            *count += u32::from(outcome.weight_g == 0);
        }
    };
    let comparison = Compare::new(&scenario).seed(SEED).days(DAYS).on_day(count_blanks).run();

    println!("{} days, the same for all plans\n", comparison.days);
    for (plan, blanks) in comparison.plans.iter().zip(blanks) {
        let weight_kg = &plan.weight_kg;
        println!(
            "{:<14} mean {:5.1} kg, one day in ten below {:4.1} kg, {blanks} blank days",
            plan.name, weight_kg.mean, weight_kg.p10
        );
    }
    println!();
    for pair in &comparison.pairs {
        let verdict = match pair.verdict {
            Verdict::Better => "better",
            Verdict::Worse => "worse",
            Verdict::Equivalent => "equivalent",
            Verdict::Inconclusive => "not clear yet",
        };
        let difference_kg = pair.difference_kg;
        let interval = difference_kg.interval.map_or_else(
            || "unknown".to_owned(),
            |interval_kg| format!("{:+.1} to {:+.1}", interval_kg.low, interval_kg.high),
        );
        println!(
            "{} against {}: {:+.1} kg ({interval}), {verdict}",
            pair.a, pair.b, difference_kg.value
        );
    }
    Ok(())
}
