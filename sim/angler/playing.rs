//! Playing a fish: how long it takes, whether it is landed, and foul-hooking.

use super::cast::REFERENCE_RIG_KG;
use super::end_tackle::EndTackle;
use super::params::AnglerParams;
use crate::engine::Dice;
use crate::numerics::{exp, powf, powi};

/// Where a fish is hooked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HookPosition {
    /// In the mouth.
    Mouth,
    /// Anywhere else: the fish is foul-hooked.
    Outside,
}

/// A fish on the rod.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fight {
    /// Mass of the fish [kg].
    pub mass_kg: f64,
    /// Where the fish is hooked.
    pub hold: HookPosition,
    /// Line and hook.
    pub end: EndTackle,
    /// Distance from cover at which it was hooked [m]; infinite if there is none.
    pub cover_m: f64,
}

impl Fight {
    /// Draws how long it is played [s]: longer for a heavy and for a foul-hooked fish, and on a weak line, which can be
    /// pulled less, by a power of its strength.
    pub fn draw_time_s(&self, params: &AnglerParams, dice: &mut Dice) -> f64 {
        let factor = if self.hold == HookPosition::Outside { params.foul_fight_times } else { 1.0 };
        let typical_s = factor * (params.fight_s + params.fight_s_kg * self.mass_kg);
        let strength = self.end.relative_strength(params);
        let typical_s = typical_s * powf(strength, -params.fight_line_power);
        dice.lognormal(typical_s, params.time_spread_ln)
    }

    /// Chance that the fish is landed: each kilogram above the first lowers the odds, and so does the strain on the
    /// tackle; less for a foul-hooked fish.
    #[must_use]
    pub fn landing_chance(&self, params: &AnglerParams) -> f64 {
        let odds = params.lands_share / (1.0 - params.lands_share);
        let odds = odds * exp(-params.loss_per_kg * (self.mass_kg - 1.0));
        let odds = odds * exp(-self.end.strain(self.mass_kg, self.cover_m, params));
        let share = if self.hold == HookPosition::Outside { params.foul_lands_share } else { 1.0 };
        share * odds / (1.0 + odds)
    }

    /// Draws whether the fish is landed.
    pub fn draw_landed(&self, params: &AnglerParams, dice: &mut Dice) -> bool {
        dice.bernoulli(self.landing_chance(params))
    }
}

/// Chance that a fish that takes is hooked by a rig of `rig_kg` that it lifts: the odds of the book's share grow with a
/// power of that mass.
#[must_use]
pub fn hooks_share(rig_kg: f64, throwing: bool, params: &AnglerParams) -> f64 {
    let share = params.hooks_share * if throwing { params.hooks_share_feeding } else { 1.0 };
    let times = powf(rig_kg / REFERENCE_RIG_KG, params.prick_exponent);
    share * times / (share * times + 1.0 - share)
}

/// Draws whether a rig that is wound in past a number of fish up in the water foul-hooks one of them.
pub fn draw_foul_in_passing(fish: usize, params: &AnglerParams, dice: &mut Dice) -> bool {
    fish > 0 && dice.bernoulli(1.0 - powi(1.0 - params.fouls_at_wind_in, fish as i32))
}
