//! One session; the only place where bait, fish and angler meet.

mod day;
mod event;
mod outcome;
mod run;

pub use day::Day;
pub use event::{Event, Gone};
pub use outcome::{BaitLedger, Catch, Outcome, ShoalCatch, SwimSeen, TimeUse};
pub use run::{fish_session, watch_session};
