//! One whole session, and the drawing of the day on which it is fished.

use std::hint::black_box;
use std::path::Path;

use criterion::Criterion;
use sim::scenario::{Scenario, load};
use sim::session::{Day, fish_session};

fn hazel_mere() -> Scenario {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/hazel-mere.toml");
    load(&path, &[]).unwrap_or_else(|faults| panic!("{faults}"))
}

/// Drawing one day: weather, books, stock.
pub(crate) fn day(c: &mut Criterion) {
    let scenario = hazel_mere();
    let mut number = 0;
    c.bench_function("session, one day drawn", |b| {
        b.iter(|| {
            number = number % 100 + 1;
            black_box(Day::draw(&scenario, 1, number))
        });
    });
}

/// Every plan of the example fished over the same twenty days, one session at a time.
pub(crate) fn fish(c: &mut Criterion) {
    let scenario = hazel_mere();
    let days: Vec<Day> = (1..=20).map(|number| Day::draw(&scenario, 1, number)).collect();
    let mut group = c.benchmark_group("session, one plan on one day");
    group.sample_size(20);
    for plan in &scenario.plans {
        let mut next = 0;
        group.bench_function(plan.name.as_str(), |b| {
            b.iter(|| {
                next = (next + 1) % days.len();
                black_box(fish_session(&scenario, plan, &days[next]))
            });
        });
    }
    group.finish();
}
