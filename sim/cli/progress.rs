//! Progress on standard error: a bar on a terminal, a few plain lines elsewhere.

use std::io::{IsTerminal, Write, stderr};
use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressState, ProgressStyle};

use crate::report::duration;
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
    /// Done before this start.
    before: u64,
    begun: Instant,
    done: AtomicU64,
    last: Mutex<Last>,
}

/// The last line, and what stands behind the next.
pub(super) struct Last {
    at: Instant,
    says: String,
}

impl Shown {
    /// Progress towards a number of sessions, and those that turn out to be ahead later.
    pub(super) fn new(sessions: u64, quiet: bool) -> Self {
        Self::from(0, sessions, quiet)
    }

    /// Progress towards a number of sessions of which some were done before.
    pub(super) fn from(before: u64, sessions: u64, quiet: bool) -> Self {
        if quiet {
            return Self::Nothing;
        }
        if !stderr().is_terminal() {
            let begun = Instant::now();
            let last = Mutex::new(Last { at: begun, says: String::new() });
            let sessions = sessions.into();
            return Self::Lines(Lines { sessions, before, begun, done: before.into(), last });
        }
        let bar = ProgressBar::new(sessions).with_position(before);
        bar.reset_eta();
        let style = "{bar:20} {human_pos} of {human_len} sessions, {rate}, {eta} to go {wide_msg}";
        let style = ProgressStyle::with_template(style).unwrap_or_else(|_| {
            // A template that indicatif does not take still leaves a bar.
            ProgressStyle::default_bar()
        });
        bar.set_style(style.with_key(
            "rate",
            |state: &ProgressState, out: &mut dyn std::fmt::Write| {
                // A bar without its rate is still a bar.
                let _ = write!(out, "{:.0} a second", state.per_sec());
            },
        ));
        Self::Bar(bar)
    }

    /// Says something beside the progress from now on.
    pub(super) fn says(&self, text: String) {
        match self {
            Self::Nothing => {}
            Self::Bar(bar) => bar.set_message(text),
            Self::Lines(lines) => {
                if let Ok(mut last) = lines.last.lock() {
                    last.says = text;
                }
            }
        }
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
        let Ok(mut last) = self.last.lock() else { return };
        if last.at.elapsed() < LINE_EVERY {
            return;
        }
        last.at = Instant::now();
        let percent = 100 * done / sessions;
        let took = self.begun.elapsed().as_secs_f64();
        let new = (done - self.before) as f64;
        let left = took * (sessions - done.min(sessions)) as f64 / new.max(1.0);
        // Progress that nobody can read is no reason to stop.
        let _ = writeln!(
            stderr(),
            "{done} of {sessions} sessions done, {percent} %, {:.0} a second, {} to go{}",
            new / took.max(1e-3),
            duration(left),
            last.says
        );
    }
}
