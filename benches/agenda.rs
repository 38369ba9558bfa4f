//! The agenda under a steady load: the next event is taken, and one more is entered.

use std::hint::black_box;

use criterion::{BenchmarkId, Criterion};
use sim::engine::{Agenda, Dice, Process, Time, run};

/// As many agents as there are events on the agenda, each of which acts again after a random time.
struct Agents {
    gaps_s: Vec<f64>,
    next: usize,
}

impl Agents {
    fn gap_s(&mut self) -> f64 {
        self.next = (self.next + 1) % self.gaps_s.len();
        self.gaps_s[self.next]
    }
}

impl Process for Agents {
    type Event = u32;

    fn happen(&mut self, now: Time, agent: u32, agenda: &mut Agenda<u32>) {
        let gap_s = self.gap_s();
        agenda.enter(now.after(gap_s), 0, agent);
    }
}

/// Ten thousand events with 50, 500 and 5 000 on the agenda (the hold model); gaps are drawn beforehand.
pub(crate) fn hold(c: &mut Criterion) {
    let mut group = c.benchmark_group("agenda, 10 000 events");
    for agents in [50_u32, 500, 5_000] {
        let mut dice = Dice::keyed(&[1, u64::from(agents)]);
        let gaps_s: Vec<f64> = (0..4_096).map(|_| dice.exponential(f64::from(agents))).collect();
        group.bench_function(BenchmarkId::new("on the agenda", agents), |b| {
            let mut process = Agents { gaps_s: gaps_s.clone(), next: 0 };
            let mut agenda = Agenda::new();
            for agent in 0..agents {
                let gap_s = process.gap_s();
                agenda.enter(Time::from_seconds(gap_s), 0, agent);
            }
            let mut until_s = 0.0;
            // Events come at one a second, so ten thousand seconds hold ten thousand, give or take.
            b.iter(|| {
                until_s += 10_000.0;
                black_box(run(&mut process, &mut agenda, Time::from_seconds(until_s)))
            });
        });
    }
    group.finish();
}
