//! The model on krABMaga, driven by events: an agent leaves its next time with the state, which schedules it again.
//!
//! Its clock has 32 bits (2 ms at the end of a session), so the model keeps times of its own with 64 bits.

use std::any::Any;

use krabmaga::engine::agent::Agent;
use krabmaga::engine::agentimpl::AgentImpl;
use krabmaga::engine::schedule::Schedule;
use krabmaga::engine::state::State;

use crate::model::{Counts, SESSION_S, WALKERS, Walker};

struct World {
    session: u64,
    walkers: Vec<Walker>,
    /// When each walker decides next [s].
    next_s: Vec<f64>,
    /// Walkers that have decided in this step.
    decided: Vec<u32>,
    counts: Counts,
}

#[derive(Clone, Copy)]
struct Number(u32);

impl Agent for Number {
    fn step(&mut self, state: &mut dyn State) {
        let Some(world) = state.as_any_mut().downcast_mut::<World>() else { return };
        let number = self.0 as usize;
        let now_s = world.next_s[number];
        if now_s > SESSION_S {
            return;
        }
        let (hit, wait_s) = world.walkers[number].decide(now_s);
        world.counts.decisions += 1;
        world.counts.hits += u64::from(hit);
        world.next_s[number] = now_s + wait_s;
        world.decided.push(self.0);
    }
}

impl World {
    fn schedule(&self, schedule: &mut Schedule, number: u32) {
        let agent = AgentImpl::new(Box::new(Number(number)), number);
        schedule.schedule_once(agent, self.next_s[number as usize] as f32, 0);
    }
}

impl State for World {
    fn init(&mut self, schedule: &mut Schedule) {
        for number in 0..WALKERS {
            let (walker, wait_s) = Walker::new(self.session, number);
            self.walkers.push(walker);
            self.next_s.push(wait_s);
            self.schedule(schedule, number as u32);
        }
    }

    fn as_any(&self) -> &dyn Any {
        self
    }

    fn as_any_mut(&mut self) -> &mut dyn Any {
        self
    }

    fn as_state(&self) -> &dyn State {
        self
    }

    fn as_state_mut(&mut self) -> &mut dyn State {
        self
    }

    fn reset(&mut self) {}

    fn update(&mut self, _step: u64) {}

    fn after_step(&mut self, schedule: &mut Schedule) {
        while let Some(number) = self.decided.pop() {
            self.schedule(schedule, number);
        }
    }
}

/// Runs one session.
pub(crate) fn run_session(session: u64) -> Counts {
    let mut schedule = Schedule::new();
    let mut world = World {
        session,
        walkers: Vec::new(),
        next_s: Vec::new(),
        decided: Vec::new(),
        counts: Counts::default(),
    };
    world.init(&mut schedule);
    while !schedule.events.is_empty() {
        schedule.step(&mut world);
    }
    world.counts
}
