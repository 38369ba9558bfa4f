//! Rules that change a plan: what has to be perceived, what is then done, and which rules are in force.

mod change;
mod condition;
mod rule;
mod state;
mod window;

pub use change::{FeedChange, PlanChange};
pub use condition::{Condition, LighterFish, SkyTime};
pub use rule::{PlanRule, RuleDuration, Rules};
pub use state::{RuleEvaluation, RuleState};
pub use window::TimeWindow;
