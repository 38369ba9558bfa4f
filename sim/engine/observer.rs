//! Observers that are called for every event.

use super::time::Time;

/// Observes each event at its time; must not change anything.
pub trait Observer<E> {
    /// Called once for each event that took effect.
    fn observe(&mut self, at: Time, event: E);
}

/// An observer that does nothing and costs nothing.
#[derive(Clone, Copy, Debug, Default)]
pub struct NullObserver;

impl<E> Observer<E> for NullObserver {
    #[inline]
    fn observe(&mut self, _at: Time, _event: E) {}
}

/// An observer that keeps a log of all events.
#[derive(Clone, Debug)]
pub struct EventLog<E> {
    /// Every event with its time, in the order in which they took effect.
    pub events: Vec<(Time, E)>,
}

impl<E> Default for EventLog<E> {
    fn default() -> Self {
        Self { events: Vec::new() }
    }
}

impl<E> Observer<E> for EventLog<E> {
    fn observe(&mut self, at: Time, event: E) {
        self.events.push((at, event));
    }
}
