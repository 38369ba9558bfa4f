//! How a study tells how far it is, and is told to stop.

use std::sync::atomic::{AtomicBool, Ordering};

/// Hears of each session as it is fished, from whichever thread fished it.
pub trait Progress: Sync {
    /// One more session of one plan is done.
    fn session_is_done(&self);

    /// So many more sessions are sure to be fished; only studies that cannot say so from the start tell it.
    fn sessions_are_ahead(&self, _sessions: u64) {}
}

/// Nobody listens.
#[derive(Clone, Copy, Debug, Default)]
pub struct Unwatched;

impl Progress for Unwatched {
    fn session_is_done(&self) {}
}

/// Whoever started a study keeps hold of it through this.
#[derive(Clone, Copy)]
pub struct Control<'a> {
    /// Who hears of progress.
    pub progress: &'a dyn Progress,
    /// Set from outside to stop; days already handed over stay good.
    pub stop: &'a AtomicBool,
}

impl Control<'_> {
    /// Whether it was asked to stop.
    #[must_use]
    pub fn is_stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }
}

static NEVER: AtomicBool = AtomicBool::new(false);

impl Default for Control<'_> {
    /// Nobody listens and nobody stops it.
    fn default() -> Self {
        Self { progress: &Unwatched, stop: &NEVER }
    }
}
