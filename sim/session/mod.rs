//! One session: the only place where bait, fish and angler meet.
//!
//! [`Day`] draws what differs between days, the same for every plan. [`fish_session`] fishes one plan on that day and
//! returns its [`Outcome`].
//!
//! - `world` holds the state and its invariants, with `rod`, `angler_state`, `swim`, `perception`, `line_touches` and
//!   `waiting_time` below it.
//! - `handlers` holds what happens: one function for each [`Event`] on the agenda, of the same name.
//! - `record` writes a whole session down, to be shown again.

mod angler_state;
mod day;
mod event;
mod handlers;
mod line_touches;
mod outcome;
mod perception;
mod record;
mod rod;
mod run;
mod stock;
mod streams;
mod swim;
mod waiting_time;
mod world;

pub use angler_state::Hands;
pub use day::Day;
pub use event::{Event, Gone};
pub use outcome::{BaitLedger, Catch, Outcome, ShoalCatch, SwimSeen, TimeUse};
pub use record::{Film, Handful, LineFilm, Lying, Move, Tackle, Why, film_session};
pub use rod::{Hook, Rig};
pub use run::{fish_by_law, fish_session, watch_session};
pub use waiting_time::BiteLaw;
