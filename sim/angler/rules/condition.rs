//! Conditions of a rule: what has to be perceived for it to fire.

use super::window::TimeWindow;
use crate::angler::perceived::Perceived;
use crate::water::LineId;

/// What has to be perceived for a rule to fire; all conditions that are stated must hold together.
///
/// Bites, line bites and time without a bite count on the current line, since the angler last turned to it. "Recent"
/// means within `within_s`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Condition {
    /// The line that must be fished.
    pub on_line: Option<LineId>,
    /// Time without a bite [s].
    pub no_bite_for_s: Option<f64>,
    /// Smallest number of recent bites.
    pub min_bites: Option<usize>,
    /// Largest number of recent bites; it holds only once the line was fished for all of `within_s`.
    pub max_bites: Option<usize>,
    /// Smallest number of recent shows of fish at the surface.
    pub min_shows: Option<usize>,
    /// The line over which fish must show; any line for `None`.
    pub show_line: Option<LineId>,
    /// Smallest number of recent line bites.
    pub min_line_bites: Option<usize>,
    /// The time that counts as recent [s].
    pub within_s: f64,
    /// Time since the start of the session, at least [s].
    pub after_s: Option<f64>,
    /// Time left in the session, at most [s].
    pub time_left_s: Option<f64>,
    /// Time for which the line that the rule changes to was not fished, at least [s].
    pub rested_for_s: Option<f64>,
    /// How far the guessed weight must be below the target for the time passed, at least [kg].
    pub behind_kg: Option<f64>,
    /// How far the guessed weight must be above it, at least [kg].
    pub ahead_kg: Option<f64>,
}

impl Condition {
    /// The time window in which all conditions hold, if nothing more is perceived; `to` is the line that the rule
    /// changes to.
    #[must_use]
    pub fn window(
        &self,
        perceived: &Perceived,
        to: Option<LineId>,
        target_kg: Option<f64>,
    ) -> TimeWindow {
        let Some(line) = perceived.line else { return TimeWindow::NEVER };
        if self.on_line.is_some_and(|on| on != line) {
            return TimeWindow::NEVER;
        }
        let mut holds = TimeWindow::ALWAYS;
        let mut require = |window: TimeWindow| holds = holds.intersection(window);
        if let Some(quiet_s) = self.no_bite_for_s {
            require(TimeWindow::from(perceived.quiet_since_s() + quiet_s));
        }
        if let Some(count) = self.min_bites {
            require(self.recent(count, nth_latest(perceived.bites_s(), count)));
        }
        if let Some(count) = self.max_bites {
            let excess_s = nth_latest(perceived.bites_s(), count + 1).unwrap_or(f64::NEG_INFINITY);
            require(TimeWindow::from(excess_s.max(perceived.line_since_s) + self.within_s));
        }
        if let Some(count) = self.min_shows {
            let shows = perceived.shows_s(self.show_line);
            require(self.recent(count, nth_latest(shows, count)));
        }
        if let Some(count) = self.min_line_bites {
            require(self.recent(count, nth_latest(perceived.line_bites_s(), count)));
        }
        if let Some(after_s) = self.after_s {
            require(TimeWindow::from(after_s));
        }
        if let Some(left_s) = self.time_left_s {
            require(TimeWindow::from(perceived.session_s - left_s));
        }
        if let Some(rested_s) = self.rested_for_s {
            require(match to {
                Some(to) if to != line => TimeWindow::from(perceived.left_s[to.0] + rested_s),
                _ => TimeWindow::NEVER,
            });
        }
        // The time at which the target, in proportion to time, reaches a weight.
        let target_time_s = |kg: f64| {
            target_kg.filter(|kg| *kg > 0.0).map(|target_kg| kg / target_kg * perceived.session_s)
        };
        if let Some(behind_kg) = self.behind_kg {
            let from_s = target_time_s(perceived.guessed_kg + behind_kg);
            require(from_s.map_or(TimeWindow::NEVER, TimeWindow::from));
        }
        if let Some(ahead_kg) = self.ahead_kg {
            let until_s = target_time_s(perceived.guessed_kg - ahead_kg);
            require(until_s.map_or(TimeWindow::NEVER, TimeWindow::until));
        }
        holds
    }

    /// Holds until the oldest of the required events is no longer recent.
    fn recent(&self, count: usize, oldest_s: Option<f64>) -> TimeWindow {
        match oldest_s {
            _ if count == 0 => TimeWindow::ALWAYS,
            Some(oldest_s) => TimeWindow::until(oldest_s + self.within_s),
            None => TimeWindow::NEVER,
        }
    }
}

/// The `n`-th latest of some times in order, counted from 1; `None` if there are fewer.
fn nth_latest(times_s: impl DoubleEndedIterator<Item = f64>, n: usize) -> Option<f64> {
    times_s.rev().nth(n.checked_sub(1)?)
}
