//! The angler: tackle, plan, cast and strike. It must not know of fish or bait beyond their names' numbers.

mod cast;
mod params;
mod plan;
mod strike;

pub use cast::{Landing, cast};
pub use params::AnglerParams;
pub use plan::{LooseFeed, Phase, Plan};
pub use strike::{fight_s, lands};
