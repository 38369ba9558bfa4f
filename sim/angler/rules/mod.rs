//! Rules that change a plan: what has to be perceived, what is then done, and which rules are in force.

mod change;
mod condition;
mod memory;
mod rule;
mod window;

pub use change::{FeedChange, PlanChange};
pub use condition::Condition;
pub use memory::{RuleEvaluation, RuleState};
pub use rule::{PlanRule, RuleDuration, Rules};
pub use window::TimeWindow;
