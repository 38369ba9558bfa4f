//! What happens next: events ordered by time, then rank, then order of entry.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use super::time::Time;

/// The events that are still to happen.
///
/// Ties in time go to the lower rank; ties in rank to whichever was entered first. Nothing is ever
/// taken out before its turn: an agent that changes its mind ignores its old event when it comes.
///
/// ```
/// use sim::engine::{Agenda, Time};
/// let mut agenda = Agenda::new();
/// agenda.enter(Time::from_seconds(2.0), 0, "strike");
/// agenda.enter(Time::from_seconds(1.0), 5, "bite");
/// agenda.enter(Time::from_seconds(1.0), 1, "splash");
/// assert_eq!(agenda.next(), Some((Time::from_seconds(1.0), "splash")));
/// assert_eq!(agenda.next(), Some((Time::from_seconds(1.0), "bite")));
/// ```
#[derive(Clone, Debug)]
pub struct Agenda<E> {
    heap: BinaryHeap<Entry<E>>,
    entered: u64,
    /// Whether the top of the heap was taken already and only holds its place for the next entry.
    taken: bool,
}

/// Time, rank and order of entry packed into one whole number, so that one comparison orders them.
#[derive(Clone, Copy, Debug)]
struct Entry<E> {
    key: u128,
    event: E,
}

const RANK_SHIFT: u32 = 56;
const TIME_SHIFT: u32 = 64;

impl<E> PartialEq for Entry<E> {
    fn eq(&self, other: &Self) -> bool {
        self.key == other.key
    }
}
impl<E> Eq for Entry<E> {}
impl<E> PartialOrd for Entry<E> {
    #[inline]
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}
impl<E> Ord for Entry<E> {
    /// Turned round, because the heap of the standard library gives the largest first.
    #[inline]
    fn cmp(&self, other: &Self) -> Ordering {
        other.key.cmp(&self.key)
    }
}

impl<E: Copy> Default for Agenda<E> {
    fn default() -> Self {
        Self::new()
    }
}

impl<E: Copy> Agenda<E> {
    /// An empty agenda.
    #[must_use]
    pub fn new() -> Self {
        Self { heap: BinaryHeap::with_capacity(512), entered: 0, taken: false }
    }

    /// Enters an event to happen `at` a time; lower `rank` goes first among equal times.
    #[inline]
    pub fn enter(&mut self, at: Time, rank: u8, event: E) {
        let key = u128::from(at.microseconds()) << TIME_SHIFT
            | u128::from(rank) << RANK_SHIFT
            | u128::from(self.entered);
        self.entered += 1;
        let entry = Entry { key, event };
        // Most events are followed by one more: putting it where the last was taken costs one sift, not two.
        if self.taken {
            self.taken = false;
            if let Some(mut top) = self.heap.peek_mut() {
                *top = entry;
            }
        } else {
            self.heap.push(entry);
        }
    }

    /// Takes the next event, with its time.
    #[inline]
    #[expect(
        clippy::should_implement_trait,
        reason = "an agenda grows while it is read; it is no iterator"
    )]
    pub fn next(&mut self) -> Option<(Time, E)> {
        self.settle();
        let top = self.heap.peek()?;
        let next = (time_of(top.key), top.event);
        self.taken = true;
        Some(next)
    }

    /// Drops a top that was taken and not replaced.
    #[inline]
    fn settle(&mut self) {
        if self.taken {
            self.taken = false;
            self.heap.pop();
        }
    }

    /// When the next event happens, if there is one.
    #[inline]
    #[must_use]
    pub fn next_time(&mut self) -> Option<Time> {
        self.settle();
        self.heap.peek().map(|entry| time_of(entry.key))
    }

    /// How many events were ever entered.
    #[must_use]
    pub fn entered(&self) -> u64 {
        self.entered
    }
}

#[inline]
fn time_of(key: u128) -> Time {
    Time::from_microseconds((key >> TIME_SHIFT) as u64)
}
