//! Comparisons in progress: one per browser tab, a few at once, each can be cancelled by its name.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use super::error::ApiError;

/// Maximum number of comparisons that run at once.
const MAX_RUNS: usize = 4;
/// Maximum number of comparisons that exist at once, including those that are about to stop.
const MAX_THREADS: usize = 16;
/// Maximum length of the name of a tab or run [bytes].
const MAX_NAME_BYTES: usize = 64;

/// Too many requests at once.
pub(super) fn busy() -> ApiError {
    ApiError::new(503, "the program is busy with other requests; wait a moment and try again")
}

/// One comparison in progress.
#[derive(Debug)]
struct ActiveRun {
    tab: String,
    name: String,
    stop: Arc<AtomicBool>,
}

/// All comparisons in progress.
#[derive(Debug, Default)]
pub(super) struct Runs {
    active: Mutex<Vec<ActiveRun>>,
}

/// Registration of one comparison; removed when it is dropped.
#[derive(Debug)]
pub(super) struct RunHandle {
    runs: Arc<Runs>,
    /// Set when the comparison is to stop.
    pub(super) stop: Arc<AtomicBool>,
}

impl Drop for RunHandle {
    fn drop(&mut self) {
        self.runs.lock().retain(|active| !Arc::ptr_eq(&active.stop, &self.stop));
    }
}

impl Runs {
    fn lock(&self) -> MutexGuard<'_, Vec<ActiveRun>> {
        // The list stays valid even if a thread panicked while it held the lock.
        self.active.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Registers a run of a tab, and stops the tab's earlier run.
    pub(super) fn start(self: &Arc<Self>, tab: &str, name: &str) -> Result<RunHandle, ApiError> {
        if [tab, name].iter().any(|name| name.is_empty() || name.len() > MAX_NAME_BYTES) {
            return Err(ApiError::bad_request(format!(
                "tab and run must have 1 to {MAX_NAME_BYTES} bytes"
            )));
        }
        let mut active = self.lock();
        for earlier in active.iter().filter(|run| run.tab == tab) {
            earlier.stop.store(true, Ordering::Relaxed);
        }
        let running = active.iter().filter(|run| !run.stop.load(Ordering::Relaxed)).count();
        if running >= MAX_RUNS || active.len() >= MAX_THREADS {
            return Err(busy());
        }
        let stop = Arc::new(AtomicBool::new(false));
        let (tab, name) = (tab.to_owned(), name.to_owned());
        active.push(ActiveRun { tab, name, stop: Arc::clone(&stop) });
        drop(active);
        Ok(RunHandle { runs: Arc::clone(self), stop })
    }

    /// Stops the run of this name; returns whether there was one.
    pub(super) fn cancel(&self, name: &str) -> bool {
        let active = self.lock();
        let mut named = active.iter().filter(|run| run.name == name).peekable();
        let exists = named.peek().is_some();
        named.for_each(|run| run.stop.store(true, Ordering::Relaxed));
        exists
    }

    /// Stops every run.
    pub(super) fn cancel_all(&self) {
        self.lock().iter().for_each(|run| run.stop.store(true, Ordering::Relaxed));
    }
}
