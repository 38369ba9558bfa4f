//! Patterns that must emerge from whole sessions without being put in.

mod appetite;
mod capture;
mod choices;
mod end_tackle;
mod families;
mod feed_size;
mod gathering;
mod picture;
mod reacting;
mod rhythm;
mod sessions;
mod splashes;

pub(crate) use families::fish_between;
pub(crate) use gathering::gini;
pub(crate) use sessions::{days, fished, stays, watched};
