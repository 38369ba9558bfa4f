//! The commands, one file each.

mod best;
mod card;
mod check;
mod compare;
mod completions;
mod cost;
mod fit;
mod learn;
mod log;
mod merge;
mod new;
mod now;
mod page;
mod params;
mod replay;
mod schema;
mod sensitivity;
mod sweep;
mod sweep_job;
mod sweep_status;

pub use best::best;
pub use card::card;
pub use check::check;
pub use compare::compare;
pub use completions::{completions, man};
pub use learn::learn;
pub use log::log;
pub use merge::merge;
pub use new::new;
pub use now::now;
pub use page::page;
pub use params::params;
pub use replay::replay;
pub use schema::schema;
pub use sweep::sweep;
