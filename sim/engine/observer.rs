//! Observers that are called for every event.

use super::time::Time;

/// Observes each event at its time; must not change anything.
pub trait Watch<E> {
    /// Called once for each event that took effect.
    fn sees(&mut self, at: Time, event: E);
}

/// An observer that does nothing and costs nothing.
#[derive(Clone, Copy, Debug, Default)]
pub struct Nobody;

impl<E> Watch<E> for Nobody {
    #[inline]
    fn sees(&mut self, _at: Time, _event: E) {}
}

/// An observer that keeps a log of all events.
#[derive(Clone, Debug)]
pub struct Record<E> {
    /// Every event with its time, in the order in which they took effect.
    pub seen: Vec<(Time, E)>,
}

impl<E> Default for Record<E> {
    fn default() -> Self {
        Self { seen: Vec::new() }
    }
}

impl<E> Watch<E> for Record<E> {
    fn sees(&mut self, at: Time, event: E) {
        self.seen.push((at, event));
    }
}
