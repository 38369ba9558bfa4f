//! From a hooked fish to the net.

use super::params::AnglerParams;
use crate::engine::Dice;

/// Time to play a fish of `mass_kg` [s]; it grows with mass and spreads.
pub fn fight_s(mass_kg: f64, params: &AnglerParams, dice: &mut Dice) -> f64 {
    let typical_s = params.fight_s + params.fight_s_kg * mass_kg;
    dice.lognormal(typical_s, params.time_spread_ln)
}

/// Whether a hooked fish of `mass_kg` is landed; each kilogram over the first lowers the odds.
pub fn lands(mass_kg: f64, params: &AnglerParams, dice: &mut Dice) -> bool {
    let odds = params.lands_share / (1.0 - params.lands_share);
    let odds = odds * (-params.loss_per_kg * (mass_kg - 1.0)).exp();
    dice.chance(odds / (1.0 + odds))
}
