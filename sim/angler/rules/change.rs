//! Changes that a rule makes to what the plan does.

use crate::angler::phase::{LooseFeed, Phase};

/// A change of the loose feed on one line; `None` leaves a choice as it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FeedChange {
    /// The line, counted from 0.
    pub line: usize,
    /// The recipe thrown, counted from 0.
    pub recipe: Option<usize>,
    /// Time between throws [s].
    pub every_s: Option<f64>,
    /// Amount of each throw [kg]; zero stops the feed.
    pub amount_kg: Option<f64>,
}

impl FeedChange {
    /// The feed with this change applied.
    fn over(&self, feed: LooseFeed) -> LooseFeed {
        LooseFeed {
            line: feed.line,
            recipe: self.recipe.unwrap_or(feed.recipe),
            every_s: self.every_s.unwrap_or(feed.every_s),
            amount_kg: self.amount_kg.unwrap_or(feed.amount_kg),
        }
    }

    /// Whether both change some choice, and to different values.
    fn contradicts(&self, other: &Self) -> bool {
        differ(self.recipe, other.recipe)
            || differ(self.every_s, other.every_s)
            || differ(self.amount_kg, other.amount_kg)
    }
}

/// Whether both are stated and differ.
fn differ<T: PartialEq>(a: Option<T>, b: Option<T>) -> bool {
    a.zip(b).is_some_and(|(a, b)| a != b)
}

/// A change of the plan; `None` leaves a choice as it is.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlanChange {
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
    pub compression: Option<f64>,
    /// The hookbait, counted from 0.
    pub hookbait: Option<usize>,
    /// Loose feed, at most one change for each line.
    pub feeds: Vec<FeedChange>,
    /// Time between throws and amount for a line that was not fed before [s, kg].
    pub new_feed: (f64, f64),
}

impl PlanChange {
    /// The phase with this change applied.
    #[must_use]
    pub fn applied_to(&self, mut phase: Phase) -> Phase {
        phase.line = self.line.unwrap_or(phase.line);
        phase.recast_s = self.recast_s.unwrap_or(phase.recast_s);
        phase.load_kg = self.load_kg.unwrap_or(phase.load_kg);
        phase.feeder_kg = self.feeder_kg.unwrap_or(phase.feeder_kg);
        phase.recipe = self.recipe.unwrap_or(phase.recipe);
        phase.buried = self.buried.unwrap_or(phase.buried);
        phase.compression = self.compression.unwrap_or(phase.compression);
        phase.hookbait = self.hookbait.unwrap_or(phase.hookbait);
        for change in &self.feeds {
            let index = phase.loose_feed.iter().position(|feed| feed.line == change.line);
            let (every_s, amount_kg) = self.new_feed;
            let new = LooseFeed { line: change.line, recipe: phase.recipe, every_s, amount_kg };
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
        feeds_differ
            || differ(self.line, other.line)
            || differ(self.recast_s, other.recast_s)
            || differ(self.load_kg, other.load_kg)
            || differ(self.feeder_kg, other.feeder_kg)
            || differ(self.recipe, other.recipe)
            || differ(self.buried, other.buried)
            || differ(self.compression, other.compression)
            || differ(self.hookbait, other.hookbait)
    }
}
