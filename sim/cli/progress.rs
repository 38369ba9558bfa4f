//! Progress on standard error: a bar on a terminal, a few plain lines in a file or pipe.

use std::io::{IsTerminal, Write, stderr};
use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressState, ProgressStyle};

use super::terminal::is_dumb;
use crate::report::{duration, grouped};
use crate::study::Progress;

/// Maximum number of plain lines.
const MAX_LINES: u64 = 10;
/// Minimum time between two plain lines.
const MIN_LINE_INTERVAL: Duration = Duration::from_secs(2);

/// Why more sessions follow than were announced at first.
const NOT_CLEAR: &str = "not clear yet, so on to twice the days";

/// Shows how many sessions are done.
pub(super) enum ProgressDisplay {
    /// With `--quiet`.
    Hidden,
    /// On a terminal.
    Bar(ProgressBar),
    /// In a file or pipe.
    Lines(ProgressLines),
}

/// Plain lines, at most one for each tenth of the work.
pub(super) struct ProgressLines {
    sessions: AtomicU64,
    /// Sessions done before this start of the program.
    done_before: u64,
    started: Instant,
    done: AtomicU64,
    last: Mutex<LastLine>,
}

/// Time of the last line, and the remark at the end of the next.
struct LastLine {
    printed: Instant,
    remark: String,
}

impl ProgressDisplay {
    /// Progress towards `sessions` sessions; more may be announced later.
    pub(super) fn new(sessions: u64, quiet: bool) -> Self {
        Self::resumed(0, sessions, quiet)
    }

    /// Progress towards `sessions` sessions, of which `done_before` are done.
    pub(super) fn resumed(done_before: u64, sessions: u64, quiet: bool) -> Self {
        if quiet {
            return Self::Hidden;
        }
        if !stderr().is_terminal() || is_dumb() {
            let started = Instant::now();
            return Self::Lines(ProgressLines {
                sessions: sessions.into(),
                done_before,
                started,
                done: done_before.into(),
                last: Mutex::new(LastLine { printed: started, remark: String::new() }),
            });
        }
        let bar = ProgressBar::new(sessions).with_position(done_before);
        bar.reset_eta();
        let style = "{bar:20} {human_pos} of {human_len} sessions, {rate}, {left} to go {wide_msg}";
        let style = ProgressStyle::with_template(style).unwrap_or_else(|_| {
            // A template that indicatif rejects still leaves a bar.
            ProgressStyle::default_bar()
        });
        // A bar without its rate or its time is still a bar.
        let rate = |state: &ProgressState, out: &mut dyn std::fmt::Write| {
            let _ = write!(out, "{:.0} per second", state.per_sec());
        };
        let left = |state: &ProgressState, out: &mut dyn std::fmt::Write| {
            let _ = out.write_str(&duration(state.eta().as_secs_f64()));
        };
        bar.set_style(style.with_key("rate", rate).with_key("left", left));
        Self::Bar(bar)
    }

    /// Sets the remark that is shown next to the progress from now on.
    pub(super) fn set_remark(&self, text: String) {
        match self {
            Self::Hidden => {}
            Self::Bar(bar) => bar.set_message(text),
            Self::Lines(lines) => {
                if let Ok(mut last) = lines.last.lock() {
                    last.remark = text;
                }
            }
        }
    }

    /// Removes the bar.
    pub(super) fn finish(&self) {
        if let Self::Bar(bar) = self {
            bar.finish_and_clear();
        }
    }
}

impl Progress for ProgressDisplay {
    fn on_session_done(&self) {
        match self {
            Self::Hidden => {}
            Self::Bar(bar) => bar.inc(1),
            Self::Lines(lines) => lines.session_is_done(),
        }
    }

    fn on_sessions_announced(&self, sessions: u64) {
        match self {
            Self::Hidden => {}
            Self::Bar(bar) => {
                if bar.length().is_some_and(|length| length > 0) {
                    bar.set_message(format!("; {NOT_CLEAR}"));
                }
                bar.inc_length(sessions);
                bar.reset_eta();
            }
            Self::Lines(lines) => {
                if lines.sessions.load(Ordering::Relaxed) > 0 {
                    self.set_remark(format!("; {NOT_CLEAR}"));
                }
                lines.sessions.fetch_add(sessions, Ordering::Relaxed);
            }
        }
    }
}

impl ProgressLines {
    fn session_is_done(&self) {
        let done = 1 + self.done.fetch_add(1, Ordering::Relaxed);
        let sessions = self.sessions.load(Ordering::Relaxed).max(1);
        let tenth = |done: u64| done * MAX_LINES / sessions;
        if tenth(done) == tenth(done - 1) {
            return;
        }
        let Ok(mut last) = self.last.lock() else { return };
        if last.printed.elapsed() < MIN_LINE_INTERVAL {
            return;
        }
        last.printed = Instant::now();
        let percent = 100 * done / sessions;
        let elapsed_s = self.started.elapsed().as_secs_f64();
        let fished = (done - self.done_before) as f64;
        let left_s = elapsed_s * (sessions - done.min(sessions)) as f64 / fished.max(1.0);
        // Progress that cannot be printed is no reason to stop.
        let _ = writeln!(
            stderr(),
            "{} of {} sessions done, {percent} %, {:.0} per second, {} to go{}",
            grouped(done),
            grouped(sessions),
            fished / elapsed_s.max(1e-3),
            duration(left_s),
            last.remark
        );
    }
}
