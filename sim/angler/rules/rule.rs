//! The rules of a plan.

use super::change::PlanChange;
use super::condition::Condition;
use super::window::SAME_S;

/// How long the change of a rule lasts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RuleDuration {
    /// Until the plan's next phase begins.
    Phase,
    /// For the rest of the session.
    Session,
    /// For a time [s].
    For(f64),
}

/// One rule: if its condition holds, its change applies.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanRule {
    /// Name in the plan.
    pub name: String,
    /// What has to be perceived.
    pub condition: Condition,
    /// The change to the plan.
    pub change: PlanChange,
    /// How long the change lasts.
    pub lasts: RuleDuration,
    /// Smallest time from one firing to the next [s].
    pub again_after_s: f64,
    /// Largest number of firings in a session; `None` is no limit.
    pub max_firings: Option<u32>,
}

/// The rules of a plan, with its target weight and phase starts.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rules {
    /// Rules in the order of the file: of two that hold at once and contradict each other, the first wins.
    pub list: Vec<PlanRule>,
    /// Target weight at the end, for rules about being behind or ahead [kg].
    pub target_kg: Option<f64>,
    /// When phases begin, as written in the plan [s]; a change of loose feed alone does not begin a phase.
    pub phase_starts_s: Vec<f64>,
}

impl Rules {
    /// Whether a phase, as written in the plan, begins at a time.
    #[must_use]
    pub fn is_phase_start(&self, at_s: f64) -> bool {
        self.phase_starts_s.iter().any(|start_s| (start_s - at_s).abs() <= SAME_S)
    }
}
