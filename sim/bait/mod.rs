//! Bait: recipes of particles that sink, hang, leach and lie as food. It must not know of fish or angler.
//!
//! The built-in baits are written in `scenario/read/built_in.toml`, as in a scenario.

mod bed;
mod cloud;
mod leach;
mod load;
mod params;
mod puff;
mod recipe;
mod scent;
mod settle;

pub use bed::Patch;
pub use cloud::{Cloud, FallingBait};
pub use leach::Attractant;
pub use load::{LoadStyle, Opening, REFERENCE_LOAD_KG, pile_radius_m};
pub use params::BaitParams;
pub use puff::{Mixing, Puff};
pub use recipe::{
    BaitValue, Feed, Hookbait, HookbaitPrior, ParticleClass, ParticleShape, Recipe, RecipePrior,
};
pub use scent::{Plume, ReleasedScent};
pub use settle::{fall_time_s, settling_speed_m_s};
