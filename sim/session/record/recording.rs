//! One session written down so that it can be shown again: where every fish went and why, the rig, the bait, the scent.

use crate::fish::State;
use crate::session::angler_state::Hands;
use crate::session::event::{Event, Gone};
use crate::session::outcome::Outcome;
use crate::session::rod::{Hook, Rig};
use crate::water::Point;

/// What made a fish do what it does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Why {
    /// Its own way: it roams, rests or is done.
    OwnWay,
    /// It noticed a line by its scent, with this chance a look.
    Scent(f64),
    /// It noticed others feeding, with this chance a look.
    Company(f64),
    /// It heard a feeder's splash.
    Splash,
    /// It heard loose feed.
    Patter,
    /// A fight close by.
    Fight,
    /// It was pricked by a hook, or came off one.
    Hook,
    /// It left a line.
    Left(Gone),
}

/// A fish takes to something: a leg it swims, or a place where it stays.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Move {
    /// When [s].
    pub at_s: f64,
    /// The fish, counted from 0.
    pub fish: usize,
    /// Where from.
    pub from: Point,
    /// Where to.
    pub to: Point,
    /// When it gets there [s].
    pub ends_s: f64,
    /// What it does.
    pub state: State,
    /// How much room is left in its gut, 0 to 1.
    pub hunger: f64,
    /// Why.
    pub why: Why,
}

/// Rod and hands from a moment on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tackle {
    /// When [s].
    pub at_s: f64,
    /// Number of the cast, from 1.
    pub cast: u32,
    /// Line.
    pub line: usize,
    /// Where the rig lies or last lay.
    pub place: Point,
    /// Where the rig is.
    pub rig: Rig,
    /// Where the hookbait is.
    pub hook: Hook,
    /// What the hands are at.
    pub hands: Hands,
}

/// A handful on its way down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Handful {
    /// When it hit the water [s].
    pub at_s: f64,
    /// Over which line.
    pub line: usize,
    /// How much falls [kg].
    pub mass_kg: f64,
    /// How long it falls [s].
    pub fall_s: f64,
}

/// Bait at one line from a moment on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lying {
    /// When [s].
    pub at_s: f64,
    /// Food in the pile of the last load [kg].
    pub pile_kg: f64,
    /// Food scattered [kg].
    pub scatter_kg: f64,
    /// Fines hanging over it [kg].
    pub hanging_kg: f64,
}

/// Scent let go from one moment until another, evenly; at once where they are the same.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Release {
    /// From when [s].
    pub from_s: f64,
    /// Until when [s].
    pub at_s: f64,
    /// How much [mol].
    pub amount_mol: f64,
}

/// What happened at one line.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LineFilm {
    /// Bait that lay or hung there, whenever that changed.
    pub lying: Vec<Lying>,
    /// Scent let go, in order of the time at which each puff was whole.
    pub releases: Vec<Release>,
    /// Flow that carries its scent [m/s].
    pub flow_m_s: (f64, f64),
    /// How fast scent spreads [m²/s].
    pub diffusivity_m2_s: f64,
    /// How fast scent is lost [1/s].
    pub loss_per_s: f64,
    /// The layer in which scent is mixed [m].
    pub layer_m: f64,
}

/// One session, written down.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Film {
    /// Everything that happened, in order, with its time [s].
    pub events: Vec<(f64, Event)>,
    /// Every move of every fish, in order of time.
    pub moves: Vec<Move>,
    /// Rod and hands, whenever they changed.
    pub tackle: Vec<Tackle>,
    /// Loose feed thrown.
    pub handfuls: Vec<Handful>,
    /// Each line of the scenario.
    pub lines: Vec<LineFilm>,
    /// What the session came to.
    pub outcome: Outcome,
}

impl Film {
    /// How many rows it has.
    pub(super) fn rows(&self) -> usize {
        let lines: usize =
            self.lines.iter().map(|line| line.lying.len() + line.releases.len()).sum();
        self.events.len() + self.moves.len() + self.tackle.len() + lines
    }
}
