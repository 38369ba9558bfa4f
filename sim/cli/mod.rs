//! The command line: one of two doors into the house.
//!
//! Reads what was asked, calls the rooms below, prints, and says by its exit code how it ended. What is computed,
//! and how it is put into words, is decided below.

mod args;
mod best;
mod card;
mod check;
mod compare;
mod door;
mod doubt;
mod ended;
mod interrupt;
mod merge;
mod page;
mod params;
mod progress;
mod reading;
mod replay;
mod sweep;
mod sweep_status;

pub use args::{
    BestArgs, CardArgs, CheckArgs, Command, CompareArgs, MergeArgs, PageArgs, ParamsArgs,
    ReplayArgs, SweepArgs,
};
pub use best::best;
pub use card::card;
pub use check::check;
pub use compare::compare;
pub use door::open;
pub use ended::Ended;
pub use merge::merge;
pub use page::{PageAsked, page};
pub use params::params;
pub use replay::replay;
pub use sweep::sweep;
