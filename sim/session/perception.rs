//! What the angler perceives of water and rod tip, and what the plan's rules remember.

use super::day::Day;
use super::line_touches::LineTouches;
use super::streams::Purpose;
use crate::angler::{Perceived, Plan, PlanRule, RuleState};
use crate::engine::Dice;
use crate::scenario::Scenario;
use crate::water::{Course, LineId};

/// What the angler has perceived, and what the rules made of it.
#[derive(Clone, Debug)]
pub(super) struct Perception {
    pub(super) seen: Perceived,
    pub(super) rules: RuleState,
    /// Whether something was perceived since the rules were last evaluated.
    pub(super) is_new: bool,
    /// Number of the look that is scheduled; an earlier one is ignored.
    look: u32,
    /// Number of times that the angler looked at the water: events that change nothing in it.
    pub(super) looks: u64,
    pub(super) touches: LineTouches,
    /// Whether the fish that is being hooked was foul-hooked, and so is no bite.
    is_foul: bool,
    guess_dice: Dice,
}

impl Perception {
    /// Nothing perceived yet.
    pub(super) fn new(scenario: &Scenario, plan: &Plan, day: &Day) -> Self {
        let mut seen = Perceived::new(scenario.session_s, scenario.lines.len());
        seen.wind_m_s = wind_m_s(plan, day);
        Self {
            seen,
            rules: RuleState::new(&plan.rules),
            is_new: false,
            look: 0,
            looks: 0,
            touches: LineTouches::new(day),
            is_foul: false,
            guess_dice: day.stream(Purpose::WeightGuess),
        }
    }

    /// A fish that counts goes into the net, and the angler guesses its weight.
    pub(super) fn net(&mut self, line: LineId, now_s: f64, mass_kg: f64, spread_ln: f64) {
        let guessed_kg = self.guess_dice.lognormal(mass_kg, spread_ln);
        self.seen.add_netted(line, now_s, guessed_kg);
    }

    /// The next fish that is hooked is foul-hooked.
    pub(super) fn foul_hook(&mut self) {
        self.is_foul = true;
    }

    /// A fish is hooked: the bite was not missed, unless the fish was foul-hooked.
    pub(super) fn hook(&mut self) {
        if !std::mem::take(&mut self.is_foul) {
            self.seen.add_hooked();
        }
    }

    /// Number of the next look, which voids the one before.
    pub(super) fn next_look(&mut self) -> u32 {
        self.look += 1;
        self.look
    }

    /// Handles a scheduled look: the rules are evaluated if it is still the current one.
    pub(super) fn look(&mut self, number: u32) {
        self.looks += 1;
        self.is_new |= number == self.look;
    }
}

/// The day's wind for a plan that asks for it; other plans do without a copy of its course.
fn wind_m_s(plan: &Plan, day: &Day) -> Course {
    let asks = |rule: &PlanRule| {
        let when = &rule.condition;
        when.min_wind_m_s.is_some() || when.max_wind_m_s.is_some()
    };
    if plan.rules.list.iter().any(asks) {
        day.courses.wind_m_s.clone()
    } else {
        Course::constant(day.conditions.wind_m_s)
    }
}
