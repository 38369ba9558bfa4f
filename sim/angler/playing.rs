//! From a hooked fish to the net.

use super::params::AnglerParams;
use crate::engine::Dice;

/// Where the hook holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hold {
    /// In the mouth.
    Mouth,
    /// Anywhere else: the fish is foul-hooked.
    Outside,
}

/// Time to play a fish of `mass_kg` [s]; it grows with mass, spreads, and is longer for one hooked outside the mouth.
pub fn fight_s(mass_kg: f64, hold: Hold, params: &AnglerParams, dice: &mut Dice) -> f64 {
    let times = if hold == Hold::Outside { params.foul_fight_times } else { 1.0 };
    let typical_s = times * (params.fight_s + params.fight_s_kg * mass_kg);
    dice.lognormal(typical_s, params.time_spread_ln)
}

/// Whether a hooked fish of `mass_kg` is landed; each kilogram over the first lowers the odds.
pub fn lands(mass_kg: f64, hold: Hold, params: &AnglerParams, dice: &mut Dice) -> bool {
    let odds = params.lands_share / (1.0 - params.lands_share);
    let odds = odds * (-params.loss_per_kg * (mass_kg - 1.0)).exp();
    let share = if hold == Hold::Outside { params.foul_lands_share } else { 1.0 };
    dice.chance(share * odds / (1.0 + odds))
}

/// Whether a rig wound in past so many fish up in the water hooks one of them.
pub fn fouls_in_passing(fish: usize, params: &AnglerParams, dice: &mut Dice) -> bool {
    fish > 0 && dice.chance(1.0 - (1.0 - params.fouls_at_wind_in).powi(fish as i32))
}
