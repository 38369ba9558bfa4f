//! What happens next: events ordered by time, then rank, then order of entry.

use std::cmp::Reverse;
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
    /// One key an event, the smallest on top.
    heap: BinaryHeap<Reverse<u128>>,
    /// The events themselves, each in the slot that its key names, so that a sift moves keys alone.
    events: Vec<E>,
    /// Slots whose events were taken.
    free: Vec<u32>,
    entered: u64,
    /// Whether the top of the heap was taken already and only holds its place for the next entry.
    taken: bool,
}

// A key is time, rank, order of entry and slot packed into one whole number, so that one comparison orders two. The
// order is unique, so the slot never decides.
const SLOT_BITS: u32 = 20;
const ORDER_BITS: u32 = 36;
const RANK_SHIFT: u32 = SLOT_BITS + ORDER_BITS;
const TIME_SHIFT: u32 = 64;
const SLOT_MASK: u128 = (1 << SLOT_BITS) - 1;

impl<E: Copy> Default for Agenda<E> {
    fn default() -> Self {
        Self::new()
    }
}

impl<E: Copy> Agenda<E> {
    /// An empty agenda.
    #[must_use]
    pub fn new() -> Self {
        Self {
            heap: BinaryHeap::with_capacity(512),
            events: Vec::with_capacity(512),
            free: Vec::new(),
            entered: 0,
            taken: false,
        }
    }

    /// Enters an event to happen `at` a time; lower `rank` goes first among equal times.
    ///
    /// # Panics
    ///
    /// If more than 2²⁰ events (a million) are on the agenda at once, or 2³⁶ were ever entered.
    #[inline]
    pub fn enter(&mut self, at: Time, rank: u8, event: E) {
        assert!(self.entered >> ORDER_BITS == 0, "an agenda takes at most 2³⁶ events");
        let key = u128::from(at.microseconds()) << TIME_SHIFT
            | u128::from(rank) << RANK_SHIFT
            | u128::from(self.entered) << SLOT_BITS;
        self.entered += 1;
        // Most events are followed by one more: putting it where the last was taken costs one sift, not two.
        if self.taken {
            self.taken = false;
            if let Some(mut top) = self.heap.peek_mut() {
                let slot = top.0 & SLOT_MASK;
                self.events[slot as usize] = event;
                top.0 = key | slot;
            }
        } else {
            let slot = self.keep(event);
            self.heap.push(Reverse(key | slot));
        }
    }

    /// Puts an event into a free slot.
    fn keep(&mut self, event: E) -> u128 {
        if let Some(slot) = self.free.pop() {
            self.events[slot as usize] = event;
            return slot.into();
        }
        let slot = self.events.len() as u128;
        assert!(slot <= SLOT_MASK, "an agenda holds at most 2²⁰ events at once");
        self.events.push(event);
        slot
    }

    /// Takes the next event, with its time.
    #[inline]
    #[expect(
        clippy::should_implement_trait,
        reason = "an agenda grows while it is read; it is no iterator"
    )]
    pub fn next(&mut self) -> Option<(Time, E)> {
        self.next_by(Time::NEVER)
    }

    /// Takes the next event, with its time, if it is due by `until`.
    #[inline]
    pub fn next_by(&mut self, until: Time) -> Option<(Time, E)> {
        self.settle();
        let &Reverse(key) = self.heap.peek()?;
        let at = time_of(key);
        self.taken = at <= until;
        self.taken.then(|| (at, self.events[(key & SLOT_MASK) as usize]))
    }

    /// Drops a top that was taken and not replaced.
    #[inline]
    fn settle(&mut self) {
        if self.taken {
            self.taken = false;
            if let Some(Reverse(key)) = self.heap.pop() {
                self.free.push((key & SLOT_MASK) as u32);
            }
        }
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
