//! The angler: plan, rules, casting and playing. It must not know of fish or bait; recipes and lines are plain indices.

mod cast;
mod params;
mod perceived;
mod phase;
mod plan;
mod playing;
mod rules;

pub use cast::{Landing, cast};
pub use params::AnglerParams;
pub use perceived::Seen;
pub use phase::{LooseFeed, Phase};
pub use plan::Plan;
pub use playing::{Hold, fight_s, fouls_in_passing, hooks_share, lands};
pub use rules::{Change, FeedChange, Holds, Lasts, Looked, Mind, Rule, Rules, When};
