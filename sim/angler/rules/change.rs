//! Changes that a rule makes to what the plan does.

use crate::angler::phase::{LooseFeed, Phase};

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
