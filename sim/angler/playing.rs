//! Playing a fish: how long it takes, whether it is landed, and foul-hooking.

use super::cast::REFERENCE_RIG_KG;
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

/// Draws the time to play a fish of `mass_kg` [s]; it grows with mass and is longer for a foul-hooked fish.
pub fn draw_fight_s(
    mass_kg: f64,
    hold: HookPosition,
    params: &AnglerParams,
    dice: &mut Dice,
) -> f64 {
    let factor = if hold == HookPosition::Outside { params.foul_fight_times } else { 1.0 };
    let typical_s = factor * (params.fight_s + params.fight_s_kg * mass_kg);
    dice.lognormal(typical_s, params.time_spread_ln)
}

/// Chance that a fish that takes is hooked by a rig of `rig_kg` that it lifts: the odds of the book's share grow with a
/// power of that mass.
#[must_use]
pub fn hooks_share(rig_kg: f64, throwing: bool, params: &AnglerParams) -> f64 {
    let share = params.hooks_share * if throwing { params.hooks_share_feeding } else { 1.0 };
    let times = powf(rig_kg / REFERENCE_RIG_KG, params.prick_exponent);
    share * times / (share * times + 1.0 - share)
}

/// Draws whether a hooked fish of `mass_kg` is landed; each kilogram above the first lowers the odds.
pub fn draw_landed(
    mass_kg: f64,
    hold: HookPosition,
    params: &AnglerParams,
    dice: &mut Dice,
) -> bool {
    let odds = params.lands_share / (1.0 - params.lands_share);
    let odds = odds * exp(-params.loss_per_kg * (mass_kg - 1.0));
    let share = if hold == HookPosition::Outside { params.foul_lands_share } else { 1.0 };
    dice.bernoulli(share * odds / (1.0 + odds))
}

/// Draws whether a rig that is wound in past a number of fish up in the water foul-hooks one of them.
pub fn draw_foul_in_passing(fish: usize, params: &AnglerParams, dice: &mut Dice) -> bool {
    fish > 0 && dice.bernoulli(1.0 - powi(1.0 - params.fouls_at_wind_in, fish as i32))
}
