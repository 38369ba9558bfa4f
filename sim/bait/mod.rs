//! Bait: recipes of particles that sink, hang, leach and lie as food. It must not know of fish.

mod bed;
mod cloud;
mod load;
mod params;
mod recipe;
mod scent;
mod settle;

pub use bed::Patch;
pub use cloud::{Cloud, Falling};
pub use load::{LoadStyle, Opening};
pub use params::BaitParams;
pub use recipe::{Class, Hookbait, Recipe, Shape};
pub use scent::{Attractant, Plume, Puff};
pub use settle::{fall_time_s, settling_speed_m_s};
