//! A phase of a plan: line, tackle and loose feed between two times.
//!
//! A phase holds every choice at once, so that a rule that changes a choice has one place to change it.

/// Loose feed that is thrown on one line at intervals.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LooseFeed {
    /// The line, counted from 0.
    pub line: usize,
    /// The recipe thrown, counted from 0.
    pub recipe: usize,
    /// Time between throws [s].
    pub every_s: f64,
    /// Amount of each throw [kg].
    pub amount_kg: f64,
}

/// What the plan does between two times of the session.
#[derive(Clone, Debug, PartialEq)]
pub struct Phase {
    /// Start, from the start of the session [s].
    pub from_s: f64,
    /// End [s].
    pub until_s: f64,
    /// The line fished, counted from 0.
    pub line: usize,
    /// Longest time from one cast to winding it in [s].
    pub recast_s: f64,
    /// Load on the feeder [kg]; zero fishes a bare lead.
    pub load_kg: f64,
    /// Mass of feeder or lead without load [kg].
    pub feeder_kg: f64,
    /// The recipe on the feeder, counted from 0.
    pub recipe: usize,
    /// Whether the hookbait is buried in the load, rather than on top.
    pub buried: bool,
    /// How hard the load is pressed: 1 is ordinary, a harder load opens later.
    pub compression: f64,
    /// The hookbait, counted from 0.
    pub hookbait: usize,
    /// Loose feed on any of the lines, at most one for each line.
    pub loose_feed: Vec<LooseFeed>,
}
