//! Rules of a plan: what has to be perceived, and what is then done otherwise.

use super::plan::{LooseFeed, Phase};
use super::seen::Seen;

/// From when to when something holds if nothing more is perceived [s]; the end does not belong to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Holds {
    /// Beginning, from the start of the session [s].
    pub from_s: f64,
    /// End [s].
    pub until_s: f64,
}

/// Moments nearer than this are one [s]: the clock of a session counts whole microseconds.
pub(super) const SAME_S: f64 = 1e-6;

impl Holds {
    /// At no time.
    pub const NEVER: Self = Self { from_s: f64::INFINITY, until_s: f64::NEG_INFINITY };
    /// At all times.
    pub const ALWAYS: Self = Self { from_s: f64::NEG_INFINITY, until_s: f64::INFINITY };

    /// From a moment on.
    #[must_use]
    pub fn from(from_s: f64) -> Self {
        Self { from_s, ..Self::ALWAYS }
    }

    /// Until a moment.
    #[must_use]
    pub fn until(until_s: f64) -> Self {
        Self { until_s, ..Self::ALWAYS }
    }

    /// When both hold.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self { from_s: self.from_s.max(other.from_s), until_s: self.until_s.min(other.until_s) }
    }

    /// Whether it holds at a moment.
    #[must_use]
    pub fn at(self, now_s: f64) -> bool {
        self.from_s <= now_s + SAME_S && now_s + SAME_S < self.until_s
    }
}

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

/// Loose feed on one line done otherwise; what is none stays as it was.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FeedChange {
    /// The line, counted from 0.
    pub line: usize,
    /// The recipe thrown, counted from 0.
    pub recipe: Option<usize>,
    /// Time between throws [s].
    pub every_s: Option<f64>,
    /// Thrown each time [kg]; nought stops the feed.
    pub amount_kg: Option<f64>,
}

/// What a rule chooses anew; what is none stays as it was.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Change {
    /// The line fished, counted from 0.
    pub line: Option<usize>,
    /// Longest time from one cast to winding it in [s].
    pub recast_s: Option<f64>,
    /// Load on the feeder [kg].
    pub load_kg: Option<f64>,
    /// Mass of feeder or lead without its load [kg].
    pub feeder_kg: Option<f64>,
    /// The recipe on the feeder, counted from 0.
    pub recipe: Option<usize>,
    /// Whether the hookbait is buried in the load.
    pub buried: Option<bool>,
    /// How hard the load is pressed.
    pub squeeze: Option<f64>,
    /// The hookbait, counted from 0.
    pub hookbait: Option<usize>,
    /// Loose feed, each line once.
    pub feeds: Vec<FeedChange>,
    /// Time between throws and amount where a line was not fed before [s, kg].
    pub new_feed: (f64, f64),
}

impl Change {
    /// What is chosen once this is laid over a phase.
    #[must_use]
    pub fn over(&self, mut phase: Phase) -> Phase {
        let new = |own: f64, anew: Option<f64>| anew.unwrap_or(own);
        phase.line = self.line.unwrap_or(phase.line);
        phase.recast_s = new(phase.recast_s, self.recast_s);
        phase.load_kg = new(phase.load_kg, self.load_kg);
        phase.feeder_kg = new(phase.feeder_kg, self.feeder_kg);
        phase.recipe = self.recipe.unwrap_or(phase.recipe);
        phase.buried = self.buried.unwrap_or(phase.buried);
        phase.squeeze = new(phase.squeeze, self.squeeze);
        phase.hookbait = self.hookbait.unwrap_or(phase.hookbait);
        for change in &self.feeds {
            let at = phase.loose_feed.iter().position(|feed| feed.line == change.line);
            let was = at.map_or(
                LooseFeed {
                    line: change.line,
                    recipe: phase.recipe,
                    every_s: self.new_feed.0,
                    amount_kg: self.new_feed.1,
                },
                |at| phase.loose_feed[at],
            );
            let feed = LooseFeed {
                line: change.line,
                recipe: change.recipe.unwrap_or(was.recipe),
                every_s: new(was.every_s, change.every_s),
                amount_kg: new(was.amount_kg, change.amount_kg),
            };
            match at {
                Some(at) if feed.amount_kg > 0.0 => phase.loose_feed[at] = feed,
                Some(at) => drop(phase.loose_feed.remove(at)),
                None if feed.amount_kg > 0.0 => phase.loose_feed.push(feed),
                None => {}
            }
        }
        phase
    }

    /// Whether both choose some one thing, and choose it differently.
    #[must_use]
    pub fn contradicts(&self, other: &Self) -> bool {
        fn differ<T: PartialEq>(one: Option<T>, other: Option<T>) -> bool {
            one.zip(other).is_some_and(|(one, other)| one != other)
        }
        let feeds_differ = self.feeds.iter().any(|feed| {
            other.feeds.iter().filter(|their| their.line == feed.line).any(|their| {
                differ(feed.recipe, their.recipe)
                    || differ(feed.every_s, their.every_s)
                    || differ(feed.amount_kg, their.amount_kg)
            })
        });
        feeds_differ
            || differ(self.line, other.line)
            || differ(self.recast_s, other.recast_s)
            || differ(self.load_kg, other.load_kg)
            || differ(self.feeder_kg, other.feeder_kg)
            || differ(self.recipe, other.recipe)
            || differ(self.buried, other.buried)
            || differ(self.squeeze, other.squeeze)
            || differ(self.hookbait, other.hookbait)
    }
}

/// How long what a rule chose holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lasts {
    /// Until the plan's next phase begins on the clock.
    Phase,
    /// For the rest of the session.
    Session,
    /// For a time [s].
    For(f64),
}

/// One rule: when this is perceived, do that.
#[derive(Clone, Debug, PartialEq)]
pub struct Rule {
    /// The name under which it stands in its plan.
    pub name: String,
    /// What has to be perceived.
    pub when: When,
    /// What is then chosen.
    pub change: Change,
    /// How long that holds.
    pub lasts: Lasts,
    /// Time from one firing to the next, at the least [s].
    pub again_after_s: f64,
    /// Times that it fires in a session at most, if there is a limit.
    pub at_most: Option<u32>,
}

/// The rules of a plan, and what they refer to.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rules {
    /// In the order of the file: of two that hold at once and contradict each other, the first has its way.
    pub list: Vec<Rule>,
    /// Weight aimed at by the end, for rules that ask whether the angler is behind or ahead [kg].
    pub target_kg: Option<f64>,
    /// When phases begin as the plan was written; loose feed that begins or ends does not begin one [s].
    pub phase_starts_s: Vec<f64>,
}

impl Rules {
    /// Whether a phase of its own, as written, begins at a moment.
    #[must_use]
    pub fn phase_starts(&self, at_s: f64) -> bool {
        self.phase_starts_s.iter().any(|start_s| (start_s - at_s).abs() <= SAME_S)
    }
}
