//! The angler: plan, rules, casting and playing. It must not know of fish or bait; recipes are plain indices.

mod cast;
mod end_tackle;
mod feed_method;
mod ids;
mod params;
mod perceived;
mod phase;
mod plan;
mod playing;
mod rules;
mod tackle;

pub use end_tackle::{EndTackle, HookSize};
pub use feed_method::FeedMethod;
pub use ids::{HookbaitId, RecipeId};
pub use params::AnglerParams;
pub use phase::{LooseFeed, Phase};
pub use plan::{Plan, PlanId};
pub use rules::{
    Condition, FeedChange, LighterFish, PlanChange, PlanRule, RuleDuration, Rules, SkyTime,
};
pub use tackle::{Tackle, TackleChange};

// What only the session and tests use.
#[doc(hidden)]
pub use cast::{Landing, cast};
#[doc(hidden)]
pub use perceived::Perceived;
#[doc(hidden)]
pub use playing::{Fight, HookPosition, draw_foul_in_passing, hooks_share};
#[doc(hidden)]
pub use rules::{RuleEvaluation, RuleState, TimeWindow};
