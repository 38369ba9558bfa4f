//! Conditions of a rule: what has to be perceived for it to fire.

use super::window::{SAME_S, TimeWindow};
use crate::angler::perceived::Perceived;
use crate::water::LineId;

/// How often the angler looks at the wind [s].
const WIND_LOOK_S: f64 = 300.0;

/// Fish that get lighter: the mean of the last few on the current line is below a weight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LighterFish {
    /// The weight [kg].
    pub below_kg: f64,
    /// Number of fish in the mean; with fewer landed on the line, the condition does not hold.
    pub of_last: usize,
}

/// A time stated by the sun or the clock.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SkyTime {
    /// As stated: the time before sunset, or since midnight [s].
    pub stated_s: f64,
    /// The same from the start of the session [s].
    pub since_start_s: f64,
}

/// What has to be perceived for a rule to fire; all conditions that are stated must hold together.
///
/// Bites, line bites, time without a bite, and fish lost or landed count on the current line, since the angler last
/// turned to it. "Recent" means within `within_s`.
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
    /// Smallest number of fish that were hooked and lost recently.
    pub min_lost: Option<usize>,
    /// Smallest number of recent bites that did not hook a fish.
    pub min_missed: Option<usize>,
    /// Smallest number of bites missed one after another.
    pub min_missed_in_a_row: Option<usize>,
    /// Smallest number of fish landed recently.
    pub min_landed: Option<usize>,
    /// Largest number of fish landed recently; it holds only once the line was fished for all of `within_s`.
    pub max_landed: Option<usize>,
    /// Smallest number of fish landed recently that were hooked outside the mouth.
    pub min_foul_hooked: Option<usize>,
    /// Weight below which the last fish landed must be in the mean.
    pub lighter: Option<LighterFish>,
    /// Wind, at least [m/s].
    pub min_wind_m_s: Option<f64>,
    /// Wind, at most [m/s].
    pub max_wind_m_s: Option<f64>,
    /// Time before sunset, or later.
    pub dusk: Option<SkyTime>,
    /// Time of the clock, or later.
    pub clock: Option<SkyTime>,
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
    /// changes to. For the wind, which may come and go, it is the window of now, or the next one.
    #[must_use]
    pub fn window(
        &self,
        perceived: &Perceived,
        to: Option<LineId>,
        target_kg: Option<f64>,
        now_s: f64,
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
        for (count, times_s) in [
            (self.min_lost, perceived.lost_s()),
            (self.min_landed, perceived.landed_s()),
            (self.min_foul_hooked, perceived.foul_hooked_s()),
        ] {
            if let Some(count) = count {
                require(self.recent(count, nth_latest(times_s.iter().copied(), count)));
            }
        }
        if let Some(count) = self.min_missed {
            require(self.recent(count, nth_latest(perceived.missed_s(), count)));
        }
        if self.min_missed_in_a_row.is_some_and(|count| perceived.missed_in_a_row() < count) {
            return TimeWindow::NEVER;
        }
        if let Some(count) = self.max_landed {
            let excess_s = nth_latest(perceived.landed_s().iter().copied(), count + 1);
            let since_s = excess_s.unwrap_or(f64::NEG_INFINITY).max(perceived.line_since_s);
            require(TimeWindow::from(since_s + self.within_s));
        }
        if let Some(lighter) = self.lighter {
            let mean_kg = perceived.mean_of_last_kg(lighter.of_last);
            if mean_kg.is_none_or(|mean_kg| mean_kg >= lighter.below_kg) {
                return TimeWindow::NEVER;
            }
        }
        if self.min_wind_m_s.is_some() || self.max_wind_m_s.is_some() {
            let least_m_s = self.min_wind_m_s.unwrap_or(f64::NEG_INFINITY);
            let most_m_s = self.max_wind_m_s.unwrap_or(f64::INFINITY);
            require(wind_window(perceived, least_m_s, most_m_s, now_s));
        }
        for stated in [self.dusk, self.clock].into_iter().flatten() {
            require(TimeWindow::from(stated.since_start_s));
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

/// The window of now, or the next one, in which the wind is between two speeds [m/s], as the angler finds it looking
/// every five minutes.
fn wind_window(perceived: &Perceived, least_m_s: f64, most_m_s: f64, now_s: f64) -> TimeWindow {
    let looks = (perceived.session_s / WIND_LOOK_S).ceil() as usize;
    let holds = |look: &usize| {
        let wind_m_s = perceived.wind_m_s.at(*look as f64 * WIND_LOOK_S);
        least_m_s <= wind_m_s && wind_m_s <= most_m_s
    };
    let now = ((now_s + SAME_S) / WIND_LOOK_S) as usize;
    let Some(first) = (now..=looks).find(holds) else { return TimeWindow::NEVER };
    let until = (first..=looks).find(|look| !holds(look));
    TimeWindow {
        from_s: first as f64 * WIND_LOOK_S,
        until_s: until.map_or(f64::INFINITY, |look| look as f64 * WIND_LOOK_S),
    }
}

/// The `n`-th latest of some times in order, counted from 1; `None` if there are fewer.
fn nth_latest(times_s: impl DoubleEndedIterator<Item = f64>, n: usize) -> Option<f64> {
    times_s.rev().nth(n.checked_sub(1)?)
}
