//! One session; the only place where bait, fish and angler meet.
//!
//! [`Day`] draws what differs between days, the same for every plan; [`fish_session`] fishes one plan
//! on it and returns its [`Outcome`].

mod angler_events;
mod bait_events;
mod bite;
mod day;
mod event;
mod film;
mod filming;
mod fish_events;
mod foul;
mod lawful;
mod outcome;
mod react_events;
mod rod;
mod run;
mod swim;
mod world;

pub use day::Day;
pub use event::{Event, Gone};
pub use film::{Film, Handful, Hands, Hook, LineFilm, Lying, Move, Rig, Tackle, Why};
pub use filming::film_session;
pub use lawful::BiteLaw;
pub use outcome::{BaitLedger, Catch, Outcome, ShoalCatch, SwimSeen, TimeUse};
pub use run::{fish_by_law, fish_session, watch_session};
