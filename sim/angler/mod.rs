//! The angler: tackle, plan, rules, cast and strike. It must not know of fish or bait beyond their names' numbers.

mod cast;
mod mind;
mod params;
mod plan;
mod react;
mod seen;
mod strike;

pub use cast::{Landing, cast};
pub use mind::{Looked, Mind};
pub use params::AnglerParams;
pub use plan::{LooseFeed, Phase, Plan};
pub use react::{Change, FeedChange, Holds, Lasts, Rule, Rules, When};
pub use seen::Seen;
pub use strike::{Hold, fight_s, fouls_in_passing, lands};
