//! A recording of one session: the moves of every fish and their reasons, the rig, the bait, the scent.

use crate::fish::{FishId, FishState};
use crate::session::activity::Activity;
use crate::session::event::{Event, LeaveReason};
use crate::session::outcome::Outcome;
use crate::session::rod::{HookbaitState, RigState};
use crate::water::{LineId, Point};

/// Why a fish does what it does.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum MoveReason {
    /// No outside cause: it roams or rests.
    OwnWay,
    /// It noticed a line by its scent, with this chance in one look.
    Scent(f64),
    /// It noticed other fish feeding, with this chance in one look.
    Company(f64),
    /// It heard a feeder's splash.
    Splash,
    /// It heard loose feed.
    Patter,
    /// A fight nearby startled it.
    Fight,
    /// It was pricked by the hook, or came off it.
    Hook,
    /// It left a line.
    Left(LeaveReason),
}

/// A move of a fish: a leg that it swims, or a place where it stays.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FishMove {
    /// Time [s].
    pub at_s: f64,
    /// The fish.
    pub fish: FishId,
    /// Where the way starts.
    pub from: Point,
    /// Where the way ends.
    pub to: Point,
    /// Time of arrival [s].
    pub ends_s: f64,
    /// What the fish does on the way.
    pub state: FishState,
    /// Hunger, 0 to 1.
    pub hunger: f64,
    /// Why the fish moves.
    pub reason: MoveReason,
}

/// State of rod and angler, from a time on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TackleState {
    /// Time [s].
    pub at_s: f64,
    /// Number of the cast, from 1.
    pub cast: u32,
    /// Line.
    pub line: LineId,
    /// Where the rig is or last was on the bed.
    pub place: Point,
    /// Where the rig is.
    pub rig: RigState,
    /// Where the hookbait is.
    pub hook: HookbaitState,
    /// What the angler is doing.
    pub activity: Activity,
}

/// One throw of loose feed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LooseFeedThrow {
    /// Time at which it hit the water [s].
    pub at_s: f64,
    /// Line.
    pub line: LineId,
    /// Mass [kg].
    pub mass_kg: f64,
    /// Time until its food reaches the bed [s].
    pub fall_s: f64,
}

/// Bait at one line, from a time on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BaitState {
    /// Time [s].
    pub at_s: f64,
    /// Food in the pile of the last load [kg].
    pub pile_kg: f64,
    /// Food in the scatter [kg].
    pub scatter_kg: f64,
    /// Fines that hang over the line [kg].
    pub hanging_kg: f64,
}

/// Scent released steadily from one time until another; at once if they are equal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Release {
    /// Start [s].
    pub from_s: f64,
    /// End [s].
    pub at_s: f64,
    /// Amount [mol].
    pub amount_mol: f64,
}

/// What was recorded at one line.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LineRecording {
    /// Bait that lay or hung there, recorded whenever it changed.
    pub bait: Vec<BaitState>,
    /// Scent released, in order of the time at which each puff was finished.
    pub releases: Vec<Release>,
    /// Flow that carries the scent [m/s].
    pub flow_m_s: (f64, f64),
    /// Eddy diffusivity [m²/s].
    pub diffusivity_m2_s: f64,
    /// Loss rate of scent [1/s].
    pub loss_per_s: f64,
    /// Thickness of the layer in which scent is mixed [m].
    pub layer_m: f64,
}

/// The recording of one session.
#[derive(Clone, Debug, Default, PartialEq)]
#[non_exhaustive]
pub struct Recording {
    /// Every event that took effect, in order, with its time [s].
    pub events: Vec<(f64, Event)>,
    /// Every move of every fish, in order of time.
    pub moves: Vec<FishMove>,
    /// State of rod and angler, recorded whenever it changed.
    pub tackle: Vec<TackleState>,
    /// Throws of loose feed.
    pub handfuls: Vec<LooseFeedThrow>,
    /// Recording of each line of the scenario.
    pub lines: Vec<LineRecording>,
    /// Outcome of the session.
    pub outcome: Outcome,
}

impl Recording {
    /// Number of rows.
    pub(super) fn rows(&self) -> usize {
        let lines: usize =
            self.lines.iter().map(|line| line.bait.len() + line.releases.len()).sum();
        self.events.len() + self.moves.len() + self.tackle.len() + lines
    }
}
