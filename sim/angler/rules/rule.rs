//! The rules of a plan.

use super::change::Change;
use super::condition::When;
use super::window::SAME_S;

/// How long what a rule chose holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lasts {
    /// Until the plan's next phase begins on the clock.
    Phase,
    /// For the rest of the session.
    Session,
    /// For a time [s].
    For(f64),
}

/// One rule: when this is perceived, do that.
#[derive(Clone, Debug, PartialEq)]
pub struct Rule {
    /// The name under which it stands in its plan.
    pub name: String,
    /// What has to be perceived.
    pub when: When,
    /// What is then chosen.
    pub change: Change,
    /// How long that holds.
    pub lasts: Lasts,
    /// Time from one firing to the next, at the least [s].
    pub again_after_s: f64,
    /// Times that it fires in a session at most, if there is a limit.
    pub at_most: Option<u32>,
}

/// The rules of a plan, and what they refer to.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rules {
    /// In the order of the file: of two that hold at once and contradict each other, the first has its way.
    pub list: Vec<Rule>,
    /// Weight aimed at by the end, for rules that ask whether the angler is behind or ahead [kg].
    pub target_kg: Option<f64>,
    /// When phases begin as the plan was written; loose feed that begins or ends does not begin one [s].
    pub phase_starts_s: Vec<f64>,
}

impl Rules {
    /// Whether a phase of its own, as written, begins at a moment.
    #[must_use]
    pub fn phase_starts(&self, at_s: f64) -> bool {
        self.phase_starts_s.iter().any(|start_s| (start_s - at_s).abs() <= SAME_S)
    }
}
