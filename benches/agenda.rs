//! The agenda under a steady load: the next event is taken and one more is scheduled.

use std::hint::black_box;

use criterion::{BenchmarkId, Criterion, Throughput};
use sim::engine::{Agenda, Dice, Time};

/// Waits drawn beforehand, so that random numbers are not part of the measurement.
const GAPS: usize = 4_096;

/// One step (the next event taken, another scheduled) with 100, 300 and 1 000 events on the agenda.
pub(crate) fn hold(c: &mut Criterion) {
    let mut group = c.benchmark_group("agenda, one hold");
    group.throughput(Throughput::Elements(1));
    for events in [100_u32, 300, 1_000] {
        let mut dice = Dice::from_key(&[1, u64::from(events)]);
        let gaps_s: Vec<f64> = (0..GAPS).map(|_| dice.exponential(f64::from(events))).collect();
        group.bench_function(BenchmarkId::new("events on the agenda", events), |b| {
            let mut agenda = Agenda::new();
            for (event, &gap_s) in (0..events).zip(&gaps_s) {
                agenda.schedule(Time::from_seconds(gap_s), 0, event);
            }
            let mut next = 0;
            b.iter(|| {
                let (now, event) = agenda.pop().expect("as many are entered as are taken");
                next = (next + 1) % GAPS;
                agenda.schedule(now.after(gaps_s[next]), 0, black_box(event));
            });
        });
    }
    group.finish();
}
