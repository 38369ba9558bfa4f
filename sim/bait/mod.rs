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

pub use load::LoadStyle;
pub use params::BaitParams;
pub use recipe::{
    BaitValue, Feed, Hookbait, HookbaitPrior, ParticleClass, ParticleShape, Recipe, RecipePrior,
};

// What only the session and tests use.
#[doc(hidden)]
pub use bed::Patch;
#[doc(hidden)]
pub use cloud::{Cloud, FallingBait};
#[doc(hidden)]
pub use leach::Attractant;
#[doc(hidden)]
pub use load::{Opening, REFERENCE_LOAD_KG, pile_radius_m};
#[doc(hidden)]
pub use puff::{Mixing, Puff};
#[doc(hidden)]
pub use scent::{Plume, ReleasedScent};
#[doc(hidden)]
pub use settle::{fall_time_s, settling_speed_m_s};
