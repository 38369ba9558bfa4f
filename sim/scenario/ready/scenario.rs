//! A scenario ready to run: checked, in SI units, names replaced by places in lists.

use super::books::Books;
use super::section::Section;
use crate::angler::Plan;
use crate::bait::{Hookbait, Recipe};
use crate::fish::Shoal;
use crate::water::{Chart, Line, Weather};

/// Lines that a scenario may have.
pub const MOST_LINES: usize = 8;

/// Whether fish caught stay out of the water.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SessionKind {
    /// Kept until the end and weighed.
    Match,
    /// Returned at once; they rest, and remember.
    Pleasure,
}

/// How weights and lengths are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Units {
    /// Kilograms, metres.
    Metric,
    /// Pounds and ounces.
    Imperial,
}

/// The fishery's limits on keepnets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Keepnet {
    /// Most weight in one net [kg].
    pub limit_kg: f64,
    /// Nets at hand.
    pub nets: u32,
}

/// What the day is for, beside weight.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Aims {
    /// Plans nearer than this in mean weight are level [kg]; a share of the heaviest mean where left out.
    pub margin_kg: Option<f64>,
    /// A weight to pass [kg].
    pub target_kg: Option<f64>,
    /// Share of days that count as the worst; [`Aims::WORST_SHARE`] where left out.
    pub worst_share: Option<f64>,
    /// The section, where the scenario has one.
    pub section: Option<Section>,
}

impl Aims {
    /// The worst days, where the scenario does not say how many: one in ten.
    pub const WORST_SHARE: f64 = 0.1;
}

/// Everything one comparison needs.
#[derive(Clone, Debug, PartialEq)]
pub struct Scenario {
    /// Name of the file without its ending, used for output folders.
    pub name: String,
    /// One line for people.
    pub title: String,
    /// Length of the session [s].
    pub session_s: f64,
    /// Match or pleasure.
    pub kind: SessionKind,
    /// Whether a fish hooked outside the mouth counts.
    pub foul_hooked_counts: bool,
    /// Units for showing.
    pub units: Units,
    /// Keepnet limits, where the fishery sets them.
    pub keepnet: Option<Keepnet>,
    /// Depths and features.
    pub chart: Chart,
    /// Places to fish.
    pub lines: Vec<Line>,
    /// Weather from day to day.
    pub weather: Weather,
    /// Baits.
    pub recipes: Vec<Recipe>,
    /// Hookbaits.
    pub hookbaits: Vec<Hookbait>,
    /// Shoals.
    pub shoals: Vec<Shoal>,
    /// Plans, in the order of the file.
    pub plans: Vec<Plan>,
    /// What the day is for, beside weight.
    pub aims: Aims,
    /// Parameters.
    pub books: Books,
    /// Whether every day has the same weather, stock and books, so that only luck differs.
    pub fixed_days: bool,
    /// SHA-256 of what was read, with what was set on the command line, in hexadecimal.
    pub sha256: String,
}
