//! The agenda and the clock: order of ties, rounding, and thinned event streams.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use proptest::prelude::*;
use sim::engine::{Agenda, Dice, Process, Time, run};

use crate::evidence::{LargestScore, mean, mean_is, within_z};
use crate::measured::measured;

proptest! {
    #![proptest_config(crate::evidence::the_same_cases())]

    /// V-06: events leave the agenda in the order of a stable sort by time and rank, for any order of scheduling,
    /// also where events are scheduled and taken in turn.
    #[test]
    fn ties_are_ordered_by_rank_and_then_by_order_of_entry(
        entries in prop::collection::vec((0_u64..6, 0_u8..4), 1..200),
        taken_between in prop::collection::vec(0_usize..3, 200),
    ) {
        let mut agenda = Agenda::new();
        let mut plain: Vec<(u64, u8, usize)> = Vec::new();
        let mut earliest = 0;
        for (number, (&(after, rank), &taken)) in entries.iter().zip(&taken_between).enumerate() {
            let at = earliest + after;
            agenda.schedule(Time::from_microseconds(at), rank, number);
            plain.push((at, rank, number));
            plain.sort_by_key(|&(at, rank, _)| (at, rank));
            for _ in 0..taken.min(plain.len()) {
                let (at, _, number) = plain.remove(0);
                prop_assert_eq!(agenda.pop(), Some((Time::from_microseconds(at), number)));
                earliest = at;
            }
        }
        for (at, _, number) in plain {
            if let Some(before) = at.checked_sub(1) {
                prop_assert_eq!(agenda.pop_until(Time::from_microseconds(before)), None);
            }
            let at = Time::from_microseconds(at);
            prop_assert_eq!(agenda.pop_until(at), Some((at, number)));
        }
        prop_assert_eq!(agenda.pop(), None);
    }

    /// V-06: the calendar agrees with a heap of the standard library at every step, whatever the waits: none, of a few
    /// microseconds or of hours, some without end, some to times that are past; and whatever is taken in between.
    #[test]
    fn the_agenda_agrees_with_a_heap(
        steps in prop::collection::vec((0_u32..44, 0_u64..1_000, 0_u8..3, 0_usize..6), 1..2_000),
        longest_bits in 0_u32..44,
        limit_us in 0_u64..1_000_000,
    ) {
        let mut agenda = Agenda::new();
        let mut heap = BinaryHeap::new();
        let mut now = 0;
        for (number, &(bits, part, rank, taken)) in steps.iter().enumerate() {
            let at = match part {
                0..3 => Time::NEVER.microseconds(),
                3..50 => now / 1_000 * part,
                _ => now + part * (1 << bits.min(longest_bits)) / 1_000,
            };
            agenda.schedule(Time::from_microseconds(at), rank, number);
            heap.push(Reverse((at, rank, number)));
            // Both numbers of events, growing and falling, occur in long runs.
            let taken = if number / 400 % 2 == 0 { taken / 3 } else { taken / 2 };
            for _ in 0..taken {
                let until = now.saturating_add(limit_us);
                let due = heap.peek().filter(|Reverse((at, ..))| *at <= until).copied();
                let expected = due.map(|Reverse((at, _, number))| (Time::from_microseconds(at), number));
                prop_assert_eq!(agenda.pop_until(Time::from_microseconds(until)), expected);
                if expected.is_none() {
                    break;
                }
                heap.pop();
                now = expected.map_or(now, |(at, _)| at.microseconds().min(1 << 50));
            }
        }
        while let Some(Reverse((at, _, number))) = heap.pop() {
            prop_assert_eq!(agenda.pop(), Some((Time::from_microseconds(at), number)));
        }
        prop_assert_eq!(agenda.pop(), None);
    }

    /// V-08: a time is the nearest whole microsecond, so its error is never more than half of one.
    #[test]
    fn a_time_is_the_nearest_microsecond(seconds in 0.0_f64..1e6) {
        let time = Time::from_seconds(seconds);
        // A thousandth is added to one half, for the rounding of a number near 10¹² in 53 bits.
        prop_assert!((time.microseconds() as f64 - seconds * 1e6).abs() <= 0.501);
        prop_assert_eq!(Time::from_seconds(time.seconds()), time);
    }
}

/// V-08: times outside the clock's range become its ends, and whole steps add up without drift.
#[test]
fn the_clock_neither_drifts_nor_overflows() {
    assert_eq!(Time::from_seconds(0.49e-6), Time::ZERO);
    assert_eq!(Time::from_seconds(0.51e-6).microseconds(), 1);
    assert_eq!(Time::from_seconds(-3.0), Time::ZERO);
    assert_eq!(Time::from_seconds(f64::NAN), Time::ZERO);
    assert_eq!(Time::from_seconds(f64::INFINITY), Time::NEVER);
    assert_eq!(Time::NEVER.after(1.0), Time::NEVER);
    assert!(Time::ZERO.seconds_since(Time::from_seconds(5.0)) <= 0.0);

    let tenths = (0..18_000).fold(Time::ZERO, |now, _| now.after(0.1));
    assert_eq!(tenths, Time::from_seconds(1_800.0));
}

/// Proposals at a constant rate, each accepted with a chance that may depend on time.
struct Thinned<F: Fn(f64) -> f64> {
    agenda: Agenda<()>,
    gap_s: f64,
    keep: F,
    dice: Dice,
    kept_s: Vec<f64>,
    dropped: usize,
}

impl<F: Fn(f64) -> f64> Process for Thinned<F> {
    type Event = ();

    fn agenda(&mut self) -> &mut Agenda<()> {
        &mut self.agenda
    }

    fn handle(&mut self, now: Time, (): ()) {
        let gap_s = self.dice.exponential(self.gap_s);
        self.agenda.schedule(now.after(gap_s), 0, ());
        if self.dice.bernoulli((self.keep)(now.seconds())) {
            self.kept_s.push(now.seconds());
        } else {
            self.dropped += 1;
        }
    }
}

fn thinned<F: Fn(f64) -> f64>(gap_s: f64, until_s: f64, keep: F, mut dice: Dice) -> Thinned<F> {
    let mut agenda = Agenda::new();
    agenda.schedule(Time::from_seconds(dice.exponential(gap_s)), 0, ());
    let mut process = Thinned { agenda, gap_s, keep, dice, kept_s: Vec::new(), dropped: 0 };
    run(&mut process, Time::from_seconds(until_s));
    process
}

/// Fails unless counts have the mean and the variance of a Poisson distribution.
fn counts_are_poisson(what: &str, counts: &[f64], truth: f64, largest: &mut LargestScore) {
    largest.add(mean_is(&format!("{what} mean"), counts, truth));
    // The variance of a sample variance of n Poisson counts of mean m is near (m + 2m²)/n.
    let n = counts.len() as f64;
    let middle = mean(counts);
    let variance = counts.iter().map(|x| (x - middle).powi(2)).sum::<f64>() / (n - 1.0);
    let error = ((truth + 2.0 * truth * truth) / n).sqrt();
    largest.add(within_z(&format!("{what} variance"), variance, truth, error));
}

/// V-07: a stream of rate 1 thinned with chance 0.3 gives independent streams of rates 0.3 and 0.7.
#[test]
fn a_thinned_stream_is_two_independent_streams() {
    let (mut kept, mut dropped) = (Vec::new(), Vec::new());
    let mut largest = LargestScore::default();
    for path in 0..4_000 {
        let stream = thinned(1.0, 50.0, |_| 0.3, Dice::from_key(&[701, path]));
        kept.push(stream.kept_s.len() as f64);
        dropped.push(stream.dropped as f64);
    }
    counts_are_poisson("V-07 kept", &kept, 15.0, &mut largest);
    counts_are_poisson("V-07 dropped", &dropped, 35.0, &mut largest);

    let (kept_mean, dropped_mean) = (mean(&kept), mean(&dropped));
    let products: Vec<f64> = kept
        .iter()
        .zip(&dropped)
        .map(|(k, d)| (k - kept_mean) * (d - dropped_mean) / (15.0_f64 * 35.0).sqrt())
        .collect();
    largest.add(mean_is("V-07 correlation", &products, 0.0));
    measured!("V-07", "{largest}");
}

/// V-07: with λ(t) = 2 + sin(2πt/10) over 50 s the number of events has mean 100 and variance 100, and Λ(t)/Λ(50) of
/// the events is uniform (Lewis & Shedler's thinning).
#[test]
fn a_stream_thinned_over_time_follows_its_rate() {
    let rate = |t: f64| 2.0 + (std::f64::consts::TAU * t / 10.0).sin();
    let area = |t: f64| {
        2.0 * t + 10.0 / std::f64::consts::TAU * (1.0 - (std::f64::consts::TAU * t / 10.0).cos())
    };
    let (mut counts, mut shares) = (Vec::new(), Vec::new());
    for path in 0..4_000 {
        let stream = thinned(1.0 / 3.0, 50.0, |t| rate(t) / 3.0, Dice::from_key(&[702, path]));
        counts.push(stream.kept_s.len() as f64);
        shares.extend(stream.kept_s.iter().map(|&t| area(t) / area(50.0)));
    }
    let mut largest = LargestScore::default();
    counts_are_poisson("V-07 sine", &counts, 100.0, &mut largest);
    let furthest = super::dice::is_uniform("V-07 sine", shares);
    measured!("V-07", "{largest}, D√n = {furthest:.2}");
}
