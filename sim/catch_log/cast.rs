//! What a log holds, in SI units.

use crate::angler::EndTackle;
use crate::scenario::Units;

/// A catch log.
#[derive(Clone, Debug, PartialEq)]
pub struct CatchLog {
    /// Its name: that of the file, without the ending.
    pub name: String,
    /// SHA-256 of its text.
    pub sha256: String,
    /// The sessions, in the order of the file; at least one, each with at least one cast.
    pub sessions: Vec<LoggedSession>,
    /// To how many seconds the times were written down: 1, or 60 if all are whole minutes [s].
    pub time_unit_s: f64,
    /// The units in which its weights are written.
    pub units: Units,
}

/// The casts of one session.
#[derive(Clone, Debug, PartialEq)]
pub struct LoggedSession {
    /// Its name in the log.
    pub name: String,
    /// Its date, `YYYY-MM-DD`, if it is written down.
    pub date: Option<String>,
    /// Its casts in order of time; at least one.
    pub casts: Vec<LoggedCast>,
}

/// One cast.
#[derive(Clone, Debug, PartialEq)]
pub struct LoggedCast {
    /// Row of the file, counted from 1 at the header.
    pub row: usize,
    /// When it was cast [s]: since midnight or since the start, as the log has it; past midnight it counts on.
    pub cast_s: f64,
    /// Name of the line that it was cast to.
    pub line: String,
    /// Hookbait or recipe; empty if it is not written down.
    pub bait: String,
    /// What the feeder held [kg].
    pub feeder_kg: Option<f64>,
    /// What was thrown in with this cast [kg].
    pub loose_feed_kg: Option<f64>,
    /// Line and hook, as far as they are written down.
    pub end_tackle: EndTackle,
    /// How it ended. `None` if the bait is still out, or was when the log ended.
    pub end: Option<CastEnd>,
    /// Anything else that was written down.
    pub note: String,
}

/// How a cast ended.
#[derive(Clone, Debug, PartialEq)]
pub struct CastEnd {
    /// In which way.
    pub kind: EndKind,
    /// When: the bite, or else when it was wound in [s], on the clock of [`LoggedCast::cast_s`].
    pub at_s: f64,
    /// When it was wound in, if that is written down [s].
    pub wound_in_s: Option<f64>,
    /// The fish that bit. `None` without a bite.
    pub catch: Option<LoggedCatch>,
}

/// In which way a cast ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EndKind {
    /// A bite.
    Bite,
    /// It was caught up in a snag.
    Snag,
    /// The hookbait was gone.
    Robbed,
    /// The bait was moved to another spot or depth.
    Moved,
    /// It was wound in to be cast again, or the session ended. The bite that had not come yet is not known.
    WoundIn,
}

/// The fish of a bite.
#[derive(Clone, Debug, PartialEq)]
pub struct LoggedCatch {
    /// Whether it was landed. `None` if it is not written down.
    pub landed: Option<bool>,
    /// Its weight [kg].
    pub weight_kg: Option<f64>,
    /// Its species; empty if it is not written down.
    pub species: String,
}

impl EndKind {
    /// The ways that compete with each other; after any of them there is no more waiting.
    pub const COMPETING: [Self; 4] = [Self::Bite, Self::Snag, Self::Robbed, Self::Moved];

    /// The word in a note that says so.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Bite => "bite",
            Self::Snag => "snag",
            Self::Robbed => "robbed",
            Self::Moved => "moved",
            Self::WoundIn => "wound in",
        }
    }
}

impl LoggedCast {
    /// How long the bait was out [s]. `None` if it still is.
    #[must_use]
    pub fn wait_s(&self) -> Option<f64> {
        self.end.as_ref().map(|end| end.at_s - self.cast_s)
    }

    /// Whether the cast ended with a bite.
    #[must_use]
    pub fn has_bite(&self) -> bool {
        self.end.as_ref().is_some_and(|end| end.kind == EndKind::Bite)
    }
}

impl CatchLog {
    /// All casts, in the order of the sessions.
    pub fn casts(&self) -> impl Iterator<Item = &LoggedCast> {
        self.sessions.iter().flat_map(|session| &session.casts)
    }
}
