//! Conditions of a rule: what has to be perceived for it to fire.

use super::window::Holds;
use crate::angler::seen::Seen;

/// What has to be perceived for a rule to fire: all that is written, together.
///
/// Bites, touches and quiet are those of the line now fished, since it was last taken up.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct When {
    /// The line that is fished, counted from 0.
    pub on_line: Option<usize>,
    /// No bite for so long [s].
    pub no_bite_for_s: Option<f64>,
    /// At least so many bites lately.
    pub bites_at_least: Option<usize>,
    /// At most so many bites lately; known only once the line was fished for all of that time.
    pub bites_at_most: Option<usize>,
    /// At least so many times lately a fish showed at the surface.
    pub fish_show: Option<usize>,
    /// The line over which they show, counted from 0; any where none is named.
    pub over: Option<usize>,
    /// At least so many line bites lately.
    pub line_bites: Option<usize>,
    /// What counts as lately [s].
    pub within_s: f64,
    /// So much of the session is gone [s].
    pub after_s: Option<f64>,
    /// No more than this is left of the session [s].
    pub time_left_s: Option<f64>,
    /// The line to which the rule changes was not fished for so long [s].
    pub rested_for_s: Option<f64>,
    /// The net, as guessed, is this much short of the target's share for the time gone [kg].
    pub behind_kg: Option<f64>,
    /// The net, as guessed, is this much over it [kg].
    pub ahead_kg: Option<f64>,
}

impl When {
    /// When all of it holds, if nothing more is perceived; `to` is the line to which the rule changes.
    #[must_use]
    pub fn holds(&self, seen: &Seen, to: Option<usize>, target_kg: Option<f64>) -> Holds {
        let Some(line) = seen.line else { return Holds::NEVER };
        if self.on_line.is_some_and(|on| on != line) {
            return Holds::NEVER;
        }
        let mut holds = Holds::ALWAYS;
        let mut asks = |more: Holds| holds = holds.and(more);
        if let Some(quiet_s) = self.no_bite_for_s {
            asks(Holds::from(seen.quiet_since_s() + quiet_s));
        }
        if let Some(count) = self.bites_at_least {
            asks(self.lately(count, nth_latest(seen.bites_s(), count)));
        }
        if let Some(count) = self.bites_at_most {
            let one_more_s = nth_latest(seen.bites_s(), count + 1).unwrap_or(f64::NEG_INFINITY);
            asks(Holds::from(one_more_s.max(seen.line_since_s) + self.within_s));
        }
        if let Some(count) = self.fish_show {
            let shows = seen.shows_s(self.over);
            asks(self.lately(count, nth_latest(shows, count)));
        }
        if let Some(count) = self.line_bites {
            asks(self.lately(count, nth_latest(seen.line_bites_s(), count)));
        }
        if let Some(after_s) = self.after_s {
            asks(Holds::from(after_s));
        }
        if let Some(left_s) = self.time_left_s {
            asks(Holds::from(seen.session_s - left_s));
        }
        if let Some(rested_s) = self.rested_for_s {
            asks(match to {
                Some(to) if to != line => Holds::from(seen.left_s[to] + rested_s),
                _ => Holds::NEVER,
            });
        }
        let on_course_s = |kg: f64| {
            target_kg.filter(|kg| *kg > 0.0).map(|target_kg| kg / target_kg * seen.session_s)
        };
        if let Some(behind_kg) = self.behind_kg {
            let from_s = on_course_s(seen.guessed_kg + behind_kg);
            asks(from_s.map_or(Holds::NEVER, Holds::from));
        }
        if let Some(ahead_kg) = self.ahead_kg {
            let until_s = on_course_s(seen.guessed_kg - ahead_kg);
            asks(until_s.map_or(Holds::NEVER, Holds::until));
        }
        holds
    }

    /// Holds until the earliest of so many is no longer lately.
    fn lately(&self, count: usize, earliest_s: Option<f64>) -> Holds {
        match earliest_s {
            _ if count == 0 => Holds::ALWAYS,
            Some(earliest_s) => Holds::until(earliest_s + self.within_s),
            None => Holds::NEVER,
        }
    }
}

/// The `n`-th latest of some moments in order of time, counted from 1.
fn nth_latest(moments_s: impl DoubleEndedIterator<Item = f64>, n: usize) -> Option<f64> {
    moments_s.rev().nth(n.checked_sub(1)?)
}
