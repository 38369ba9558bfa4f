//! A scenario ready to run: checked, in SI units, with names replaced by indices.

use sha2::{Digest, Sha256};

use super::learned_book::LearnedBook;
use super::section::Section;
use crate::angler::{EndTackle, Plan};
use crate::bait::{HookbaitPrior, RecipePrior};
use crate::fish::Shoal;
use crate::scenario::schema::{Books, SessionKind, Units};
use crate::water::{Chart, Clarity, Clock, Line, LineId, Weather};

/// The fishery's limits on keepnets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Keepnet {
    /// Largest weight in one net [kg].
    pub limit_kg: f64,
    /// Number of nets the angler has.
    pub nets: u32,
}

/// Aims of the day other than mean weight.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Aims {
    /// Plans whose mean weights differ by less than this are level [kg]. `None` stands for a share of the heaviest mean.
    pub margin_kg: Option<f64>,
    /// A weight to reach [kg].
    pub target_kg: Option<f64>,
    /// Share of days that count as the worst. `None` stands for [`Aims::WORST_SHARE`].
    pub worst_share: Option<f64>,
    /// The section, if the scenario has one.
    pub section: Option<Section>,
}

impl Aims {
    /// Share of days that count as the worst if the scenario does not say: one in ten.
    pub const WORST_SHARE: f64 = 0.1;
}

/// What a scenario was read from: enough to read the same scenario again.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct WrittenScenario {
    /// Text of the file.
    pub text: String,
    /// Values that override those of the file, as `KEY=VALUE`.
    pub sets: Vec<String>,
    /// Path and text of the file of weigh-ins, if the scenario names one.
    pub weigh_ins: Option<(String, String)>,
}

impl WrittenScenario {
    /// SHA-256 in hexadecimal of the file.
    #[must_use]
    pub fn file_sha256(&self) -> String {
        Sha256::digest(self.text.as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect()
    }
}

/// Everything that a comparison needs.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Scenario {
    /// Name of the file without its extension; output folders have it too.
    pub name: String,
    /// A title, on one line.
    pub title: String,
    /// Length of the session [s].
    pub session_s: f64,
    /// Match or pleasure session.
    pub kind: SessionKind,
    /// Whether a fish hooked outside the mouth counts.
    pub foul_hooked_counts: bool,
    /// How weights and lengths are shown.
    pub units: Units,
    /// Keepnet limits, if the fishery sets any.
    pub keepnet: Option<Keepnet>,
    /// Depths and features.
    pub chart: Chart,
    /// Places to fish.
    pub lines: Vec<Line>,
    /// Line and hook for each place, where a plan leaves them open.
    pub end_tackle: Vec<EndTackle>,
    /// Weather, which may differ from day to day.
    pub weather: Weather,
    /// How clear the water is.
    pub clarity: Clarity,
    /// When the session takes place, if the scenario says; light and temperature then follow the sun.
    pub clock: Option<Clock>,
    /// Baits.
    pub recipes: Vec<RecipePrior>,
    /// Hookbaits.
    pub hookbaits: Vec<HookbaitPrior>,
    /// Shoals.
    pub shoals: Vec<Shoal>,
    /// Plans, in the order of the file.
    pub plans: Vec<Plan>,
    /// Aims of the day other than mean weight.
    pub aims: Aims,
    /// Parameters.
    pub books: Books,
    /// What a catch log says of some of them, if a learned book is laid over them.
    pub learned: Option<LearnedBook>,
    /// Whether every day has the same weather, stock and books, so that only replicate noise differs.
    pub fixed_days: bool,
    /// SHA-256 in hexadecimal of the text with its weigh-ins and `--set` values.
    pub sha256: String,
    /// What was read.
    pub written: WrittenScenario,
}

impl Scenario {
    /// Line and hook for a place, where a plan leaves them open.
    #[must_use]
    pub fn end_tackle_on(&self, line: LineId) -> EndTackle {
        self.end_tackle.get(line.0).copied().unwrap_or_default()
    }

    /// Whether the scenario states a line or a hook anywhere, so that what is assumed of them can matter.
    #[must_use]
    pub fn states_end_tackle(&self) -> bool {
        let in_plan = |plan: &Plan| {
            plan.phases.iter().any(|phase| phase.tackle.end.is_stated())
                || plan.rules.list.iter().any(|rule| rule.change.tackle.end.is_stated())
        };
        self.end_tackle.iter().any(|end| end.is_stated()) || self.plans.iter().any(in_plan)
    }
}
