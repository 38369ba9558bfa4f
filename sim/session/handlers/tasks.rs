//! The angler's tasks: what the angler does now, for how long, and what comes next.

use crate::engine::Observer;
use crate::session::activity::Activity;
use crate::session::angler_state::NextStep;
use crate::session::event::Event;
use crate::session::world::{World, rank};

impl<W: Observer<Event>> World<'_, W> {
    /// Turns to another task, which takes `takes_s`; the time until now is booked to the task before.
    ///
    /// A task of infinite length ends when something else happens.
    pub(super) fn start_task(&mut self, activity: Activity, next_step: NextStep, takes_s: f64) {
        self.angler.book_time(self.now, &mut self.outcome.time_s);
        let turn = self.angler.start_task(activity, next_step);
        if takes_s.is_finite() {
            let ends = self.now.after(takes_s);
            self.agenda.schedule(ends, rank::ANGLER, Event::AnglerTurns { turn });
        }
    }

    /// Waits for a bite, hands free.
    pub(super) fn wait_for_bite(&mut self) {
        self.start_task(Activity::Waiting, NextStep::Decide, f64::INFINITY);
    }

    /// Draws the time of a task that typically takes `typical_s` [s].
    pub(super) fn task_time_s(&mut self, typical_s: f64) -> f64 {
        self.dice.hands.lognormal(typical_s, self.day.angler.time_spread_ln)
    }

    /// The current task is done.
    pub(super) fn angler_turns(&mut self, turn: u32) {
        if turn != self.angler.task {
            return;
        }
        match self.angler.next_step {
            NextStep::Cast if self.is_on_chosen_line() => self.cast_rig(),
            NextStep::Throw { feed } => {
                self.throw_feed(feed);
                self.after_throw();
            }
            NextStep::Cast | NextStep::Decide | NextStep::Idle => self.decide(),
        }
    }

    /// Casts; the rig hits the water after its flight.
    fn cast_rig(&mut self) {
        let flight_s = self.task_time_s(self.day.angler.cast_flight_s);
        self.start_task(Activity::Casting, NextStep::Decide, f64::INFINITY);
        let event = Event::RigIsCast { cast: self.rod.cast + 1, line: self.rod.tackle.line };
        self.agenda.schedule(self.now.after(flight_s), rank::ANGLER, event);
    }

    /// Goes on after a throw: the next handful, winding in if that is due, or waiting.
    fn after_throw(&mut self) {
        if self.throw_next() {
            return;
        }
        if !self.rod.bait_in_water() {
            self.decide();
        } else if self.now >= self.rod.recast_at {
            self.wind_in();
        } else {
            self.wait_for_bite();
        }
    }

    /// The rod is out of the water and the hands are free: decides what is due.
    fn decide(&mut self) {
        let running = self.chosen_phase().filter(|phase| self.now.seconds() < phase.until_s);
        let Some(mut tackle) = running.map(|phase| phase.tackle) else {
            self.start_task(Activity::Other, NextStep::Idle, f64::INFINITY);
            return;
        };
        if self.throw_next() {
            return;
        }
        let changes_line = self.angler.set_up_for.is_some_and(|line| line != tackle.line);
        self.angler.set_up_for = Some(tackle.line);
        if changes_line {
            let takes_s = self.task_time_s(self.day.angler.move_line_s);
            self.start_task(Activity::Other, NextStep::Decide, takes_s);
            return;
        }
        // What the plan leaves open is as the scenario has it for the line.
        tackle.end = tackle.end.or(self.scenario.end_tackle_on(tackle.line));
        let pressed_kg = self.within_limit_kg(tackle.load_kg);
        self.rod.set_up(tackle, pressed_kg);
        let takes_s = self.task_time_s(self.day.angler.load_s);
        self.start_task(Activity::Rebaiting, NextStep::Cast, takes_s);
    }
}
