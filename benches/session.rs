//! Whole sessions of the demo, plan by plan, and the drawing of one day.

use std::hint::black_box;
use std::path::Path;
use std::time::Instant;

use criterion::{Criterion, Throughput};
use sim::angler::Plan;
use sim::scenario::{Scenario, load};
use sim::session::{Day, run_session};

/// Number of days, the same ones for every plan.
const DAYS: u32 = 20;

/// How often those days are fished for the line of text.
const ROUNDS: u32 = 5;

fn two_shoals() -> Scenario {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/waters/two-shoals.toml");
    load(&path, &[]).unwrap_or_else(|faults| panic!("{faults}"))
}

/// Drawing one day: weather, parameter books, stock.
pub(crate) fn day(c: &mut Criterion) {
    let scenario = two_shoals();
    let mut number = 0;
    c.bench_function("session, one day drawn", |b| {
        b.iter(|| {
            number = number % 100 + 1;
            black_box(Day::draw(&scenario, 1, number))
        });
    });
}

/// Fishes every day once and returns the number of events.
fn fish_all(scenario: &Scenario, plan: &Plan, days: &[Day]) -> u64 {
    days.iter().map(|day| black_box(run_session(scenario, plan, day)).swim.events).sum()
}

/// Every plan of the demo on the same days, already drawn; one element is one event.
pub(crate) fn fish(c: &mut Criterion) {
    let scenario = two_shoals();
    let days: Vec<Day> = (1..=DAYS).map(|number| Day::draw(&scenario, 1, number)).collect();
    let mut group = c.benchmark_group(format!("session, one plan on {DAYS} days"));
    group.sample_size(20);
    for plan in &scenario.plans {
        let events = fish_all(&scenario, plan, &days);
        let begun = Instant::now();
        for _ in 0..ROUNDS {
            fish_all(&scenario, plan, &days);
        }
        let taken_s = begun.elapsed().as_secs_f64();
        println!(
            "{}: {:.0} sessions/s, {:.0} ns/event ({:.0} events a session)",
            plan.name,
            f64::from(ROUNDS * DAYS) / taken_s,
            1e9 * taken_s / (f64::from(ROUNDS) * events as f64),
            events as f64 / f64::from(DAYS)
        );
        group.throughput(Throughput::Elements(events));
        group.bench_function(plan.name.as_str(), |b| {
            b.iter(|| fish_all(&scenario, plan, &days));
        });
    }
    group.finish();
}
