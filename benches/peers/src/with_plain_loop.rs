//! The model as a plain loop over the heap of the standard library, without an engine.
//!
//! A key packs the bits of the time, which sort as the time does, and the walker; the next one takes the top's place.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use crate::model::{Counts, SESSION_S, WALKERS, Walker};

/// Runs one session.
pub(crate) fn run_session(session: u64) -> Counts {
    let mut heap = BinaryHeap::with_capacity(WALKERS);
    let mut walkers = Vec::with_capacity(WALKERS);
    for number in 0..WALKERS {
        let (walker, wait_s) = Walker::new(session, number);
        heap.push(Reverse(key(wait_s, number)));
        walkers.push(walker);
    }
    let mut counts = Counts::default();
    while let Some(mut top) = heap.peek_mut() {
        let now_s = f64::from_bits((top.0 >> 64) as u64);
        if now_s > SESSION_S {
            break;
        }
        let number = top.0 as u64 as usize;
        let (hit, wait_s) = walkers[number].decide(now_s);
        counts.decisions += 1;
        counts.hits += u64::from(hit);
        top.0 = key(now_s + wait_s, number);
    }
    counts
}

fn key(at_s: f64, number: usize) -> u128 {
    u128::from(at_s.to_bits()) << 64 | number as u128
}
