//! One session: the only place where bait, fish and angler meet.
//!
//! [`Day`] draws what differs between days, the same for every plan. [`run_session`] fishes one plan on that day and
//! returns its [`Outcome`].
//!
//! - `world` holds the state and its invariants, with `rod`, `angler_state`, `swim`, `perception`, `line_touches` and
//!   `waiting_time` below it.
//! - `handlers` holds what happens: one function for each [`Event`] on the agenda, of the same name.
//! - `record` writes a whole session down, to be shown again.

mod activity;
mod angler_state;
mod day;
mod drawn_books;
mod event;
mod handlers;
mod line_touches;
mod outcome;
mod paused;
mod perception;
mod record;
mod rod;
mod run;
mod stock;
mod streams;
mod swim;
mod waiting_time;
mod world;

pub use activity::{Activity, TimeUse};
pub use day::Day;
pub use event::{Event, LeaveReason};
pub use outcome::{BaitLedger, Catch, Outcome, ShoalCatch, SwimStatistics};
pub use run::{observe_session, run_session};

// What only the two front ends and tests use.
#[doc(hidden)]
pub use paused::PausedSession;
#[doc(hidden)]
pub use record::{
    BaitState, FishMove, LineRecording, LooseFeedThrow, MoveReason, Recording, TackleState,
    record_session, record_session_unless,
};
#[doc(hidden)]
pub use rod::{HookbaitState, RigState};
#[doc(hidden)]
pub use run::run_with_waiting_times;
#[doc(hidden)]
pub use waiting_time::WaitingTimeModel;
