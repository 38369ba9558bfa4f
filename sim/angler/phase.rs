//! A phase of a plan: line, tackle and loose feed between two times.
//!
//! A phase holds every choice at once, so that a rule that changes a choice has one place to change it.

use super::feed_method::FeedMethod;
use super::ids::RecipeId;
use super::tackle::Tackle;
use crate::water::LineId;

/// Loose feed that is thrown on one line at intervals.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LooseFeed {
    /// The line.
    pub line: LineId,
    /// The recipe thrown.
    pub recipe: RecipeId,
    /// Time between throws [s].
    pub every_s: f64,
    /// Amount of each throw [kg].
    pub amount_kg: f64,
    /// How the feed gets to the line.
    pub method: FeedMethod,
}

/// What the plan does between two times of the session.
#[derive(Clone, Debug, PartialEq)]
pub struct Phase {
    /// Start, from the start of the session [s].
    pub from_s: f64,
    /// End [s].
    pub until_s: f64,
    /// Where and how the rod is fished.
    pub tackle: Tackle,
    /// Loose feed on any of the lines, at most one for each line.
    pub loose_feed: Vec<LooseFeed>,
}

impl Phase {
    /// Whether bait may come to a line in this phase.
    #[must_use]
    pub fn uses(&self, line: LineId) -> bool {
        self.tackle.line == line || self.loose_feed.iter().any(|feed| feed.line == line)
    }
}
