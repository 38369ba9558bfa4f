//! Bait in the water: settling, scent and the mass balance.

mod mass_balance;
mod plume;
mod puff;
mod puff_twin;
mod settling;
mod water;
