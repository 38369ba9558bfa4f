//! Whoever wishes to see each event as it happens.

use super::time::Time;

/// Sees each event at its time; must not change anything.
pub trait Watch<E> {
    /// Called once for each event that took effect.
    fn sees(&mut self, at: Time, event: E);
}

/// Looks away: costs nothing.
#[derive(Clone, Copy, Debug, Default)]
pub struct Nobody;

impl<E> Watch<E> for Nobody {
    #[inline]
    fn sees(&mut self, _at: Time, _event: E) {}
}

/// Writes everything down.
#[derive(Clone, Debug)]
pub struct Record<E> {
    /// Every event seen, in the order in which it happened.
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
