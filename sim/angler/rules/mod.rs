//! Rules that change a plan: what has to be perceived, what is then done, and which rules are in force.

mod change;
mod condition;
mod memory;
mod rule;
mod window;

pub use change::{Change, FeedChange};
pub use condition::When;
pub use memory::{Looked, Mind};
pub use rule::{Lasts, Rule, Rules};
pub use window::Holds;
