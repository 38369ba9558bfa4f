//! Progress of a running study, and a request to stop it.

use std::sync::atomic::{AtomicBool, Ordering};

/// Receives progress updates, from any thread.
pub trait Progress: Sync {
    /// Is called after each session of one plan.
    fn on_session_done(&self);

    /// Announces further sessions; only studies that do not know their total from the start call it.
    fn on_sessions_announced(&self, _sessions: u64) {}
}

/// Ignores progress updates.
#[derive(Clone, Copy, Debug, Default)]
pub struct NoProgress;

impl Progress for NoProgress {
    fn on_session_done(&self) {}
}

/// Handle for reporting the progress of a running study and for stopping it.
#[derive(Clone, Copy)]
pub struct Control<'a> {
    /// Receives progress updates.
    pub progress: &'a dyn Progress,
    /// Flag that another thread sets to stop the study; days already delivered stay valid.
    pub stop: &'a AtomicBool,
}

impl Control<'_> {
    /// Whether a stop was requested.
    #[must_use]
    pub fn is_stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }
}

static NEVER: AtomicBool = AtomicBool::new(false);

impl Default for Control<'_> {
    /// A handle that ignores progress and never stops the study.
    fn default() -> Self {
        Self { progress: &NoProgress, stop: &NEVER }
    }
}
