//! Changes that a rule makes to what the plan does.

use crate::angler::feed_method::FeedMethod;
use crate::angler::ids::RecipeId;
use crate::angler::phase::{LooseFeed, Phase};
use crate::angler::tackle::TackleChange;
use crate::water::LineId;

/// A change of the loose feed on one line; `None` leaves a choice as it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FeedChange {
    /// The line.
    pub line: LineId,
    /// The recipe thrown.
    pub recipe: Option<RecipeId>,
    /// Time between throws [s].
    pub every_s: Option<f64>,
    /// Amount of each throw [kg]; zero stops the feed.
    pub amount_kg: Option<f64>,
    /// How the feed gets to the line.
    pub method: Option<FeedMethod>,
}

impl FeedChange {
    /// The feed with this change applied.
    fn over(&self, feed: LooseFeed) -> LooseFeed {
        LooseFeed {
            line: feed.line,
            recipe: self.recipe.unwrap_or(feed.recipe),
            every_s: self.every_s.unwrap_or(feed.every_s),
            amount_kg: self.amount_kg.unwrap_or(feed.amount_kg),
            method: self.method.unwrap_or(feed.method),
        }
    }

    /// Whether both change some choice, and to different values.
    fn contradicts(&self, other: &Self) -> bool {
        differ(self.recipe, other.recipe)
            || differ(self.every_s, other.every_s)
            || differ(self.amount_kg, other.amount_kg)
            || differ(self.method, other.method)
    }
}

/// Whether both are stated and differ.
fn differ<T: PartialEq>(a: Option<T>, b: Option<T>) -> bool {
    a.zip(b).is_some_and(|(a, b)| a != b)
}

/// A change of the plan; `None` leaves a choice as it is.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlanChange {
    /// The change of the tackle.
    pub tackle: TackleChange,
    /// Loose feed, at most one change for each line.
    pub feeds: Vec<FeedChange>,
    /// Time between throws and amount for a line that was not fed before [s, kg].
    pub new_feed: (f64, f64),
}

impl PlanChange {
    /// The phase with this change applied.
    #[must_use]
    pub fn applied_to(&self, mut phase: Phase) -> Phase {
        phase.tackle = self.tackle.applied_to(phase.tackle);
        for change in &self.feeds {
            let index = phase.loose_feed.iter().position(|feed| feed.line == change.line);
            let ((every_s, amount_kg), recipe) = (self.new_feed, phase.tackle.recipe);
            let method = FeedMethod::default();
            let new = LooseFeed { line: change.line, recipe, every_s, amount_kg, method };
            let before = index.map_or(new, |index| phase.loose_feed[index]);
            let feed = change.over(before);
            match index {
                Some(index) if feed.amount_kg > 0.0 => phase.loose_feed[index] = feed,
                Some(index) => drop(phase.loose_feed.remove(index)),
                None if feed.amount_kg > 0.0 => phase.loose_feed.push(feed),
                None => {}
            }
        }
        phase
    }

    /// Whether both change some choice, and to different values.
    #[must_use]
    pub fn contradicts(&self, other: &Self) -> bool {
        let feeds_differ = self.feeds.iter().any(|feed| {
            let mut same_line = other.feeds.iter().filter(|their| their.line == feed.line);
            same_line.any(|their| feed.contradicts(their))
        });
        feeds_differ || self.tackle.contradicts(&other.tackle)
    }
}
