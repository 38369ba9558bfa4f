//! Scent: the cost of one concentration and of one release of a puff.

use std::hint::black_box;

use criterion::Criterion;
use sim::bait::{Plume, Puff};
use sim::engine::{Dice, Time};
use sim::water::Point;

const LINE: Point = Point { x_m: 0.0, y_m: 22.0 };

fn puff(at_s: f64) -> Puff {
    Puff::round(4e-5, LINE, 0.09, Time::from_seconds(at_s))
}

/// A line that has been fed for an hour, a puff every two minutes.
fn fed_for_an_hour() -> Plume {
    let mut plume = Plume::new(0.75, 1e-3, (0.01, -0.005), 1e-4);
    for i in 0..30 {
        plume.release(puff(120.0 * f64::from(i)));
    }
    plume
}

/// One concentration at places within ten metres of the line.
pub(crate) fn sniff(c: &mut Criterion) {
    let plume = fed_for_an_hour();
    let mut dice = Dice::from_key(&[1]);
    let places: Vec<Point> = (0..1_024)
        .map(|_| Point {
            x_m: dice.uniform_between(-10.0, 10.0),
            y_m: dice.uniform_between(12.0, 32.0),
        })
        .collect();
    let now = Time::from_seconds(3_650.0);
    let mut next = 0;
    c.bench_function("scent, one sniff", |b| {
        b.iter(|| {
            next = (next + 1) % places.len();
            plume.concentration_mol_m3(black_box(places[next]), now)
        });
    });
}

/// One puff released where the maximum number of puffs is kept, so that two are merged.
pub(crate) fn release(c: &mut Criterion) {
    let plume = fed_for_an_hour();
    c.bench_function("scent, one puff let go", |b| {
        b.iter_batched_ref(
            || plume.clone(),
            |plume| plume.release(black_box(puff(3_600.0))),
            criterion::BatchSize::SmallInput,
        );
    });
}
