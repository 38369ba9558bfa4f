//! The model on `sim::engine`.

use crate::engine::{Agenda, Process, Time, run};
use crate::model::{Counts, SESSION_S, WALKERS, Walker};

struct World {
    agenda: Agenda<u32>,
    walkers: Vec<Walker>,
    counts: Counts,
}

impl Process for World {
    type Event = u32;

    fn agenda(&mut self) -> &mut Agenda<u32> {
        &mut self.agenda
    }

    fn handle(&mut self, now: Time, walker: u32) {
        let (hit, wait_s) = self.walkers[walker as usize].decide(now.seconds());
        self.counts.decisions += 1;
        self.counts.hits += u64::from(hit);
        self.agenda.schedule(now.after(wait_s), 0, walker);
    }
}

/// Runs one session.
pub(crate) fn run_session(session: u64) -> Counts {
    let mut agenda = Agenda::new();
    let walkers = (0..WALKERS)
        .map(|number| {
            let (walker, wait_s) = Walker::new(session, number);
            agenda.schedule(Time::from_seconds(wait_s), 0, number as u32);
            walker
        })
        .collect();
    let mut world = World { agenda, walkers, counts: Counts::default() };
    run(&mut world, Time::from_seconds(SESSION_S));
    world.counts
}
