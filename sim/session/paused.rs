//! A session that is stopped at a time and goes on in several ways from the same state.

use super::day::Day;
use super::event::Event;
use super::outcome::Outcome;
use super::streams::Purpose;
use super::world::{SessionDice, World};
use crate::angler::{Phase, Plan};
use crate::engine::{NullObserver, Observer, Time, run};
use crate::scenario::Scenario;

/// A session that was fished up to a time.
pub struct PausedSession<'a, W> {
    world: World<'a, W>,
}

impl<'a, W: Observer<Event>> PausedSession<'a, W> {
    /// Fishes a plan up to a time since the start [s].
    ///
    /// # Panics
    ///
    /// If a phase of the plan begins after that time, or ends between it and the end of the session: it would come into
    /// every plan that goes on.
    pub fn new(
        scenario: &'a Scenario,
        plan: &'a Plan,
        day: &'a Day,
        until_s: f64,
        observer: &'a mut W,
    ) -> Self {
        let is_over = |phase: &Phase| {
            phase.from_s <= until_s
                && (phase.until_s <= until_s || phase.until_s >= scenario.session_s)
        };
        assert!(plan.phases.iter().all(is_over), "a phase of the past comes later");
        let mut world = World::new(scenario, plan, day, observer);
        world.start();
        run(&mut world, Time::from_seconds(until_s));
        world.now = Time::from_seconds(until_s).min(world.end);
        Self { world }
    }

    /// What came out of it so far.
    #[must_use]
    pub fn outcome(&self) -> &Outcome {
        &self.world.outcome
    }

    /// Whether the rig lies on the bed.
    #[must_use]
    pub fn is_bait_out(&self) -> bool {
        self.world.rod.bait_in_water()
    }

    /// Goes on with a plan to the end of the session, and returns the outcome of the whole of it; the paused session stays as
    /// it is. With `winds_in_now`, a bait that is out is wound in first.
    ///
    /// Rules of the plan take in what happens from now on; the weight in the net they know.
    #[must_use]
    pub fn go_on(&self, plan: &Plan, winds_in_now: bool) -> Outcome {
        self.go_on_by_chance(plan, winds_in_now, 0)
    }

    /// Goes on in the same way, but with other random numbers from the pause on, one series for each replicate; replicate 0 keeps
    /// those of the paused session.
    #[must_use]
    pub fn go_on_by_chance(&self, plan: &Plan, winds_in_now: bool, replicate: u64) -> Outcome {
        let mut observer = NullObserver;
        let mut world = self.world.branch(plan, &mut observer);
        if replicate > 0 {
            world.take_other_chance(replicate);
        }
        world.turn_to_plan(winds_in_now);
        let end = world.end;
        run(&mut world, end);
        let mut outcome = world.outcome;
        outcome.fired = world.perception.rules.fired().to_vec();
        outcome
    }
}

impl<W: Observer<Event>> World<'_, W> {
    /// Takes other random numbers from now on.
    fn take_other_chance(&mut self, replicate: u64) {
        self.dice = SessionDice::new(|purpose| self.day.later_stream(purpose, 0, replicate));
        for (fish, agent) in self.fish.iter_mut().zip(0..) {
            fish.dice = self.day.later_stream(Purpose::Fish, agent, replicate);
        }
    }

    /// A copy of this world that goes on with another plan.
    fn branch<'b, V: Observer<Event>>(
        &'b self,
        plan: &'b Plan,
        observer: &'b mut V,
    ) -> World<'b, V> {
        World {
            scenario: self.scenario,
            plan,
            day: self.day,
            observer,
            agenda: self.agenda.clone(),
            now: self.now,
            end: self.end,
            fish: self.fish.clone(),
            notice_bounds: self.notice_bounds.clone(),
            swims: self.swims.clone(),
            throws: self.throws.clone(),
            rod: self.rod.clone(),
            angler: self.angler.clone(),
            perception: self.perception.clone(),
            dice: self.dice.clone(),
            gut_rate_per_s: self.gut_rate_per_s,
            presence_until: self.presence_until,
            outcome: self.outcome.clone(),
            waiting_times: None,
        }
    }
}
