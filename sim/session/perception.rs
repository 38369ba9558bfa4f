//! What the angler perceives of water and rod tip, and what the plan's rules remember.

use super::day::Day;
use super::line_touches::LineTouches;
use super::streams::Purpose;
use crate::angler::{Perceived, Plan, RuleState};
use crate::engine::Dice;
use crate::scenario::Scenario;

/// What the angler has perceived, and what the rules made of it.
#[derive(Clone, Debug)]
pub(super) struct Perception {
    pub(super) seen: Perceived,
    pub(super) rules: RuleState,
    /// Whether something was perceived since the rules were last evaluated.
    pub(super) is_new: bool,
    /// Number of the look that is scheduled; an earlier one is ignored.
    look: u32,
    /// Looks that were handled: events of the angler's own, which change nothing in the water.
    pub(super) looks: u64,
    pub(super) touches: LineTouches,
    guess_dice: Dice,
}

impl Perception {
    /// Nothing perceived yet.
    pub(super) fn new(scenario: &Scenario, plan: &Plan, day: &Day) -> Self {
        Self {
            seen: Perceived::new(scenario.session_s, scenario.lines.len()),
            rules: RuleState::new(&plan.rules),
            is_new: false,
            look: 0,
            looks: 0,
            touches: LineTouches::new(day),
            guess_dice: day.stream(Purpose::WeightGuess),
        }
    }

    /// A fish that counts goes into the net, and the angler guesses its weight.
    pub(super) fn net(&mut self, mass_kg: f64, spread_ln: f64) {
        self.seen.add_netted(self.guess_dice.lognormal(mass_kg, spread_ln));
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
