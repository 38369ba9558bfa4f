//! Progress on standard error: a bar on a terminal, a few plain lines elsewhere.

use std::io::{IsTerminal, Write, stderr};
use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressStyle};

use crate::study::Progress;

/// Lines at most, where there is no terminal.
const LINES: u64 = 10;
/// Time between two lines at least.
const LINE_EVERY: Duration = Duration::from_secs(2);

/// Shows how many sessions are done.
pub(super) enum Shown {
    /// Asked to be quiet.
    Nothing,
    /// On a terminal.
    Bar(ProgressBar),
    /// In a file or pipe.
    Lines(Lines),
}

/// Plain lines, one a tenth of the work at most.
pub(super) struct Lines {
    sessions: AtomicU64,
    done: AtomicU64,
    last_line: Mutex<Instant>,
}

impl Shown {
    /// Progress towards a number of sessions, and those that turn out to be ahead later.
    pub(super) fn new(sessions: u64, quiet: bool) -> Self {
        if quiet {
            return Self::Nothing;
        }
        if !stderr().is_terminal() {
            let last_line = Mutex::new(Instant::now());
            let (sessions, done) = (AtomicU64::new(sessions), AtomicU64::new(0));
            return Self::Lines(Lines { sessions, done, last_line });
        }
        let bar = ProgressBar::new(sessions);
        let style = "{bar:30} {human_pos} of {human_len} sessions, {eta} to go";
        bar.set_style(ProgressStyle::with_template(style).unwrap_or_else(|_| {
            // A template that indicatif does not take still leaves a bar.
            ProgressStyle::default_bar()
        }));
        Self::Bar(bar)
    }

    /// Takes the bar away.
    pub(super) fn finish(&self) {
        if let Self::Bar(bar) = self {
            bar.finish_and_clear();
        }
    }
}

impl Progress for Shown {
    fn session_is_done(&self) {
        match self {
            Self::Nothing => {}
            Self::Bar(bar) => bar.inc(1),
            Self::Lines(lines) => lines.session_is_done(),
        }
    }

    fn sessions_are_ahead(&self, sessions: u64) {
        match self {
            Self::Nothing => {}
            Self::Bar(bar) => bar.inc_length(sessions),
            Self::Lines(lines) => {
                lines.sessions.fetch_add(sessions, Ordering::Relaxed);
            }
        }
    }
}

impl Lines {
    fn session_is_done(&self) {
        let done = 1 + self.done.fetch_add(1, Ordering::Relaxed);
        let sessions = self.sessions.load(Ordering::Relaxed).max(1);
        let tenth = |done: u64| done * LINES / sessions;
        if tenth(done) == tenth(done - 1) {
            return;
        }
        let Ok(mut last_line) = self.last_line.lock() else { return };
        if last_line.elapsed() < LINE_EVERY {
            return;
        }
        *last_line = Instant::now();
        let percent = 100 * done / sessions;
        // Progress that nobody can read is no reason to stop.
        let _ = writeln!(stderr(), "{done} of {sessions} sessions done, {percent} %");
    }
}
