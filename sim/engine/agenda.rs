//! The agenda: pending events, ordered by time, then rank, then order of entry.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::time::Time;

/// The queue of pending events.
///
/// Of events at the same time, the lower rank comes first; of those, the one entered first. Events are never removed
/// early: an agent counts the generations of its events and ignores an old one when it comes (lazy deletion).
///
/// ```
/// use sim::engine::{Agenda, Time};
/// let mut agenda = Agenda::new();
/// agenda.schedule(Time::from_seconds(2.0), 0, "strike");
/// agenda.schedule(Time::from_seconds(1.0), 5, "bite");
/// agenda.schedule(Time::from_seconds(1.0), 1, "splash");
/// assert_eq!(agenda.pop(), Some((Time::from_seconds(1.0), "splash")));
/// assert_eq!(agenda.pop(), Some((Time::from_seconds(1.0), "bite")));
/// ```
#[derive(Clone, Debug)]
pub struct Agenda<E> {
    /// One key for each event, the smallest on top.
    heap: BinaryHeap<Reverse<u128>>,
    /// The events themselves, each in the slot that its key names, so that sifting moves only keys.
    events: Vec<E>,
    /// Slots of events that were taken.
    free: Vec<u32>,
    scheduled_count: u64,
    /// Whether the event on top was taken already; its place in the heap is kept for the next entry.
    taken: bool,
}

// A key packs time, rank, order of entry and slot into one integer, so that one comparison orders two events. The
// order of entry is unique, so the slot never decides.
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
    /// Creates an empty agenda.
    #[must_use]
    pub fn new() -> Self {
        Self {
            heap: BinaryHeap::with_capacity(512),
            events: Vec::with_capacity(512),
            free: Vec::new(),
            scheduled_count: 0,
            taken: false,
        }
    }

    /// Schedules an event at a time; of events at the same time, the lower `rank` comes first.
    ///
    /// # Panics
    ///
    /// If more than 2²⁰ events (a million) are pending at once, or if 2³⁶ were ever scheduled.
    #[inline]
    pub fn schedule(&mut self, at: Time, rank: u8, event: E) {
        assert!(self.scheduled_count >> ORDER_BITS == 0, "an agenda takes at most 2³⁶ events");
        let key = u128::from(at.microseconds()) << TIME_SHIFT
            | u128::from(rank) << RANK_SHIFT
            | u128::from(self.scheduled_count) << SLOT_BITS;
        self.scheduled_count += 1;
        // Most events schedule one more: putting it in the place of the one just taken costs one sift, not two.
        if self.taken {
            self.taken = false;
            if let Some(mut top) = self.heap.peek_mut() {
                let slot = top.0 & SLOT_MASK;
                self.events[slot as usize] = event;
                top.0 = key | slot;
            }
        } else {
            let slot = self.store(event);
            self.heap.push(Reverse(key | slot));
        }
    }

    /// Stores an event in a free slot and returns the slot.
    fn store(&mut self, event: E) -> u128 {
        if let Some(slot) = self.free.pop() {
            self.events[slot as usize] = event;
            return slot.into();
        }
        let slot = self.events.len() as u128;
        assert!(slot <= SLOT_MASK, "an agenda holds at most 2²⁰ events at once");
        self.events.push(event);
        slot
    }

    /// Takes the next event, with its time; `None` if no event is pending.
    #[inline]
    pub fn pop(&mut self) -> Option<(Time, E)> {
        self.pop_until(Time::NEVER)
    }

    /// Takes the next event, with its time; `None` if none is due up to and including `until`.
    #[inline]
    pub fn pop_until(&mut self, until: Time) -> Option<(Time, E)> {
        self.drop_taken();
        let &Reverse(key) = self.heap.peek()?;
        let at = time_of(key);
        self.taken = at <= until;
        self.taken.then(|| (at, self.events[(key & SLOT_MASK) as usize]))
    }

    /// Removes the event on top if it was taken and not replaced.
    #[inline]
    fn drop_taken(&mut self) {
        if self.taken {
            self.taken = false;
            if let Some(Reverse(key)) = self.heap.pop() {
                self.free.push((key & SLOT_MASK) as u32);
            }
        }
    }

    /// Number of events that were ever scheduled.
    #[must_use]
    pub fn scheduled_count(&self) -> u64 {
        self.scheduled_count
    }
}

#[inline]
fn time_of(key: u128) -> Time {
    Time::from_microseconds((key >> TIME_SHIFT) as u64)
}
