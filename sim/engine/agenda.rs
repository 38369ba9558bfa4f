//! The agenda: pending events, ordered by time, then rank, then order of entry.

use std::mem::replace;

use super::time::Time;

/// The queue of pending events.
///
/// Of events at the same time, the lower rank comes first; of those, the one entered first. Events are never removed
/// early: an agent counts the generations of its events and ignores an old one when it comes (lazy deletion).
///
/// It is a calendar (Brown 1988): time is cut into buckets of equal width, and only the bucket that is open is sorted.
/// When all buckets are used up, the pending events are spread over new ones, whose width follows from the events. At
/// least half of the pending events are in the new buckets, so spreading costs a fixed time per event. Entering an event
/// takes time in proportion to the open bucket, which is short unless many events come at nearly the same time.
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
    /// Keys of the events up to the end of the open bucket, the next one last.
    due: Vec<u128>,
    /// The first slot of each bucket's events, in any order; the last bucket has all that comes after the others.
    buckets: Vec<u32>,
    /// Number of buckets that were opened; the last of them is the open one.
    opened: usize,
    /// Where the first bucket begins [µs].
    begins: u64,
    /// Width of a bucket [µs], as a power of two.
    width_bits: u32,
    /// The events, each in the slot that its key names, so that sorting moves only keys.
    slots: Vec<Slot<E>>,
    /// The first slot that is free.
    free: u32,
    scheduled_count: u64,
}

/// An event with its key, and the next slot of the same bucket; if it was taken, the next free slot.
#[derive(Clone, Copy, Debug)]
struct Slot<E> {
    key: u128,
    event: E,
    next: u32,
}

/// The end of a list of slots.
const NO_SLOT: u32 = u32::MAX;

// A key packs time, rank, order of entry and slot into one integer, so that one comparison orders two events. The
// order of entry is unique, so the slot never decides.
const SLOT_BITS: u32 = 20;
const ORDER_BITS: u32 = 36;
const RANK_SHIFT: u32 = SLOT_BITS + ORDER_BITS;
const TIME_SHIFT: u32 = 64;
const SLOT_MASK: u128 = (1 << SLOT_BITS) - 1;

/// Fewest buckets that events are spread over.
const MIN_BUCKETS: usize = 64;

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
            due: Vec::new(),
            buckets: vec![NO_SLOT],
            opened: 0,
            begins: 0,
            width_bits: 0,
            slots: Vec::with_capacity(512),
            free: NO_SLOT,
            scheduled_count: 0,
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
        if self.free == NO_SLOT {
            self.add_slot(event);
        }
        let number = self.free;
        let key = u128::from(at.microseconds()) << TIME_SHIFT
            | u128::from(rank) << RANK_SHIFT
            | u128::from(self.scheduled_count) << SLOT_BITS
            | u128::from(number);
        self.scheduled_count += 1;
        let bucket = self.bucket_of(key);
        let slot = &mut self.slots[number as usize];
        self.free = slot.next;
        slot.key = key;
        slot.event = event;
        if bucket < self.opened {
            self.make_due(key);
        } else {
            slot.next = replace(&mut self.buckets[bucket], number);
        }
    }

    /// Adds a free slot; its event is only a stand-in.
    #[cold]
    fn add_slot(&mut self, event: E) {
        self.free = self.slots.len() as u32;
        assert!(u128::from(self.free) <= SLOT_MASK, "an agenda holds at most 2²⁰ events at once");
        self.slots.push(Slot { key: 0, event, next: NO_SLOT });
    }

    /// The bucket of a key; the first one for all that comes before it, the last one for all that comes after the rest.
    #[inline]
    fn bucket_of(&self, key: u128) -> usize {
        let bucket = time_of(key).saturating_sub(self.begins) >> self.width_bits;
        bucket.min(self.buckets.len() as u64 - 1) as usize
    }

    /// Enters a key at its place among those that are due.
    #[inline(never)]
    fn make_due(&mut self, key: u128) {
        let later = self.due.iter().rposition(|&other| other > key);
        self.due.insert(later.map_or(0, |place| place + 1), key);
    }

    /// Takes the next event, with its time; `None` if no event is pending.
    #[inline]
    pub fn pop(&mut self) -> Option<(Time, E)> {
        self.pop_until(Time::NEVER)
    }

    /// Takes the next event, with its time; `None` if none is due up to and including `until`.
    #[inline]
    pub fn pop_until(&mut self, until: Time) -> Option<(Time, E)> {
        if self.due.is_empty() {
            self.open_next_bucket();
        }
        let key = *self.due.last()?;
        let at = Time::from_microseconds(time_of(key));
        if at > until {
            return None;
        }
        self.due.pop();
        let number = slot_of(key);
        let slot = &mut self.slots[number as usize];
        slot.next = replace(&mut self.free, number);
        Some((at, slot.event))
    }

    /// Opens the next bucket that has events, if any are pending.
    fn open_next_bucket(&mut self) {
        loop {
            while self.opened + 1 < self.buckets.len() {
                let first = replace(&mut self.buckets[self.opened], NO_SLOT);
                self.opened += 1;
                if first != NO_SLOT {
                    self.due.extend(keys_from(&self.slots, first));
                    self.due.sort_unstable_by(|key, other| other.cmp(key));
                    return;
                }
            }
            if !self.spread_pending() {
                return;
            }
        }
    }

    /// Spreads what comes after the buckets over new ones, four times as long as half of it takes; whether there is any.
    fn spread_pending(&mut self) -> bool {
        let last = self.buckets.len() - 1;
        let first_slot = replace(&mut self.buckets[last], NO_SLOT);
        let mut pending: Vec<u128> = keys_from(&self.slots, first_slot).collect();
        let Some(&first) = pending.iter().min() else { return false };
        let count = pending.len();
        let (_, &mut middle, _) = pending.select_nth_unstable(count / 2);
        let half_takes = time_of(middle) - time_of(first);
        self.begins = time_of(first);
        self.width_bits = (2 * half_takes / count as u64 + 1).next_power_of_two().ilog2();
        self.opened = 0;
        self.buckets.resize((2 * count).next_power_of_two().max(MIN_BUCKETS) + 1, NO_SLOT);
        for key in pending {
            let bucket = self.bucket_of(key);
            let number = slot_of(key);
            self.slots[number as usize].next = replace(&mut self.buckets[bucket], number);
        }
        true
    }

    /// Number of events that were ever scheduled.
    #[must_use]
    pub fn scheduled_count(&self) -> u64 {
        self.scheduled_count
    }
}

/// The keys of a list of slots, from its first slot on.
fn keys_from<E>(slots: &[Slot<E>], first: u32) -> impl Iterator<Item = u128> {
    let slot = |number: u32| slots.get(number as usize);
    std::iter::successors(slot(first), move |last| slot(last.next)).map(|slot| slot.key)
}

/// The time of a key [µs].
#[inline]
fn time_of(key: u128) -> u64 {
    (key >> TIME_SHIFT) as u64
}

#[inline]
fn slot_of(key: u128) -> u32 {
    (key & SLOT_MASK) as u32
}
