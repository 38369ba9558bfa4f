//! What the angler is doing, what is chosen now, and what is due next.

use super::activity::{Activity, TimeUse};
use crate::angler::{LooseFeed, Phase};
use crate::engine::Time;
use crate::water::LineId;

/// What the angler does when the current task is done.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum NextStep {
    /// Decide what is due.
    Decide,
    /// Cast the loaded feeder.
    Cast,
    /// Throw the handful, then go on as before.
    Throw { feed: LooseFeed },
    /// Decide again when a phase begins; until then the plan has nothing to do.
    Idle,
}

/// The angler's task, current choice and feeding schedule.
#[derive(Clone, Debug)]
pub(super) struct AnglerState {
    /// Phase of the plan, if one is running.
    pub(super) phase: Option<usize>,
    /// That phase with the changes of all rules in force.
    pub(super) chosen: Option<Phase>,
    pub(super) activity: Activity,
    /// When the current task began.
    since: Time,
    pub(super) next_step: NextStep,
    /// Number of the current task; the end of an earlier task is ignored.
    pub(super) task: u32,
    /// Feed that is due now, in order.
    pub(super) feed_due: Vec<LooseFeed>,
    /// When each feed of the current phase is due next.
    pub(super) feed_times: Vec<(LooseFeed, Time)>,
    /// The line for which the rod was last set up.
    pub(super) set_up_for: Option<LineId>,
}

impl AnglerState {
    /// The angler before the first phase.
    pub(super) fn new() -> Self {
        Self {
            phase: None,
            chosen: None,
            activity: Activity::Other,
            since: Time::ZERO,
            next_step: NextStep::Idle,
            task: 0,
            feed_due: Vec::new(),
            feed_times: Vec::new(),
            set_up_for: None,
        }
    }

    pub(super) fn is_waiting(&self) -> bool {
        self.activity == Activity::Waiting
    }

    /// Whether the plan has nothing to do.
    pub(super) fn is_idle(&self) -> bool {
        self.next_step == NextStep::Idle
    }

    /// Adds the time since the current task began to that task's account.
    pub(super) fn book_time(&mut self, now: Time, time_s: &mut TimeUse) {
        let elapsed_s = now.seconds_since(self.since);
        self.since = now;
        time_s[self.activity] += elapsed_s;
    }

    /// Starts the next task and returns its number; time must have been booked before.
    pub(super) fn start_task(&mut self, activity: Activity, next_step: NextStep) -> u32 {
        self.activity = activity;
        self.next_step = next_step;
        self.task += 1;
        self.task
    }

    /// Puts a handful that was interrupted back to the front of the feed that is due.
    pub(super) fn postpone_throw(&mut self) {
        if let NextStep::Throw { feed } = self.next_step {
            self.feed_due.retain(|&due| due != feed);
            self.feed_due.insert(0, feed);
        }
    }
}
