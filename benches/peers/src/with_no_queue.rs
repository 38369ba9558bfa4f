//! The arithmetic of the model alone: walkers know nothing of each other, so one can live its session after another.

use crate::model::{Counts, SESSION_S, WALKERS, Walker};

/// Runs one session.
pub(crate) fn run_session(session: u64) -> Counts {
    let mut counts = Counts::default();
    for number in 0..WALKERS {
        let (mut walker, mut next_s) = Walker::new(session, number);
        while next_s <= SESSION_S {
            let (hit, wait_s) = walker.decide(next_s);
            counts.decisions += 1;
            counts.hits += u64::from(hit);
            next_s += wait_s;
        }
    }
    counts
}
