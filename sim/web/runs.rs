//! Comparisons under way: one a browser tab, a few at once, each stopped by its name.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use super::told::Wrong;

/// Comparisons that may go on at once.
const MOST_RUNS: usize = 4;
/// Comparisons that may exist at once, those told to stop included.
const MOST_THREADS: usize = 16;
/// Longest name of a tab or run.
const LONGEST_NAME: usize = 64;

/// One comparison under way.
#[derive(Debug)]
struct Running {
    tab: String,
    run: String,
    stop: Arc<AtomicBool>,
}

/// All comparisons under way.
#[derive(Debug, Default)]
pub(super) struct Runs {
    running: Mutex<Vec<Running>>,
}

/// One comparison's place among those under way; given back when it is dropped.
#[derive(Debug)]
pub(super) struct Ticket {
    runs: Arc<Runs>,
    /// Set when it is to stop.
    pub(super) stop: Arc<AtomicBool>,
}

impl Drop for Ticket {
    fn drop(&mut self) {
        self.runs.list().retain(|running| !Arc::ptr_eq(&running.stop, &self.stop));
    }
}

impl Runs {
    fn list(&self) -> MutexGuard<'_, Vec<Running>> {
        // A list of names is sound whatever happened to a thread that held it.
        self.running.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Enters a run of a tab; the tab's earlier run is told to stop.
    pub(super) fn begin(self: &Arc<Self>, tab: &str, run: &str) -> Result<Ticket, Wrong> {
        if [tab, run].iter().any(|name| name.is_empty() || name.len() > LONGEST_NAME) {
            return Err(Wrong::asked(format!("tab and run have 1 to {LONGEST_NAME} bytes")));
        }
        let mut list = self.list();
        for earlier in list.iter().filter(|running| running.tab == tab) {
            earlier.stop.store(true, Ordering::Relaxed);
        }
        let going_on = list.iter().filter(|running| !running.stop.load(Ordering::Relaxed)).count();
        if going_on >= MOST_RUNS || list.len() >= MOST_THREADS {
            return Err(Wrong::busy());
        }
        let stop = Arc::new(AtomicBool::new(false));
        let (tab, run) = (tab.to_owned(), run.to_owned());
        list.push(Running { tab, run, stop: Arc::clone(&stop) });
        drop(list);
        Ok(Ticket { runs: Arc::clone(self), stop })
    }

    /// Tells a run to stop; whether it was under way.
    pub(super) fn cancel(&self, run: &str) -> bool {
        let list = self.list();
        let mut found = list.iter().filter(|running| running.run == run).peekable();
        let was_there = found.peek().is_some();
        found.for_each(|running| running.stop.store(true, Ordering::Relaxed));
        was_there
    }

    /// Tells every run to stop.
    pub(super) fn cancel_all(&self) {
        self.list().iter().for_each(|running| running.stop.store(true, Ordering::Relaxed));
    }
}
