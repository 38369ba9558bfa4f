//! Phases of the plan and their loose feed: what is due, and when.

use crate::angler::{LooseFeed, RuleState};
use crate::bait::FallingBait;
use crate::engine::{Observer, Time};
use crate::session::activity::Activity;
use crate::session::angler_state::NextStep;
use crate::session::event::Event;
use crate::session::swim::Throw;
use crate::session::world::{World, rank};

impl<W: Observer<Event>> World<'_, W> {
    /// Schedules the phases of the plan that are not over yet; a phase that is running begins now.
    pub(super) fn schedule_phases(&mut self) {
        let phases = &self.plan.phases;
        for (phase, plan) in phases.iter().enumerate() {
            let ends = Time::from_seconds(plan.until_s);
            if ends <= self.now {
                continue;
            }
            let begins = Time::from_seconds(plan.from_s).max(self.now);
            self.agenda.schedule(begins, rank::ANGLER, Event::PhaseBegins { phase });
            let next = phases.get(phase + 1).map(|next| Time::from_seconds(next.from_s));
            if next != Some(ends) && ends < self.end {
                self.agenda.schedule(ends, rank::ANGLER, Event::PhaseEnds { phase });
            }
        }
    }

    /// Leaves the plan that was fished so far and turns to the one of this world; with `winds_in`, a bait that is out is
    /// wound in.
    pub(in crate::session) fn turn_to_plan(&mut self, winds_in: bool) {
        self.angler.phase = None;
        self.angler.feed_due.clear();
        self.angler.feed_times.clear();
        self.perception.rules = RuleState::new(&self.plan.rules);
        self.perception.seen.guessed_kg = self.outcome.weight_g as f64 * 1e-3;
        let now_s = self.now.seconds();
        let mut phases = self.plan.phases.iter();
        if !phases.any(|phase| (phase.from_s..phase.until_s).contains(&now_s)) {
            self.choose_nothing();
            if self.rod.bait_in_water() {
                self.leave_other_line();
            }
        }
        self.schedule_phases();
        if winds_in {
            self.wind_in_when_free(self.rod.cast);
        }
    }

    /// A phase of the plan begins: its loose feed falls due, and a rig on another line is wound in.
    ///
    /// Feed that continues unchanged from the phase before keeps its rhythm. Other feed that was due is not thrown.
    pub(super) fn phase_begins(&mut self, phase: usize) {
        self.announce(Event::PhaseBegins { phase });
        self.angler.phase = Some(phase);
        let chosen = self.choose_phase(&self.plan.phases[phase]);
        let previous = std::mem::take(&mut self.angler.feed_times);
        self.angler.feed_due.retain(|due| chosen.loose_feed.contains(due));
        for (feed, &current) in chosen.loose_feed.iter().enumerate() {
            let kept = previous.iter().find(|&&(old, at)| old == current && at > self.now);
            if let Some(&(_, at)) = kept {
                self.schedule_feed(phase, feed, current, at);
            } else {
                self.feed_falls_due(phase, feed, current);
            }
        }
        if self.rod.bait_in_water() {
            self.leave_other_line();
        } else if self.angler.is_idle() {
            self.start_task(Activity::Other, NextStep::Idle, 0.0);
        }
    }

    /// A phase ends and none follows at once: the rod comes out of the water.
    pub(super) fn phase_ends(&mut self, phase: usize) {
        if self.angler.phase != Some(phase) {
            return;
        }
        self.announce(Event::PhaseEnds { phase });
        self.angler.phase = None;
        self.choose_nothing();
        self.angler.feed_due.clear();
        self.angler.feed_times.clear();
        if self.rod.bait_in_water() {
            self.leave_other_line();
        }
    }

    /// Winds in a rig that is on a line which the plan no longer fishes.
    pub(super) fn leave_other_line(&mut self) {
        if !self.is_on_chosen_line() {
            self.wind_in_when_free(self.rod.cast);
        }
    }

    /// Whether the rod is set up for the line that the plan fishes now.
    pub(super) fn is_on_chosen_line(&self) -> bool {
        self.chosen_phase().is_some_and(|phase| phase.tackle.line == self.rod.tackle.line)
    }

    /// Loose feed of a phase falls due, and its next time is scheduled.
    pub(super) fn loose_feed_due(&mut self, phase: usize, feed: usize) {
        if self.angler.phase != Some(phase) {
            return;
        }
        let current = self.chosen_phase().and_then(|chosen| chosen.loose_feed.get(feed)).copied();
        let Some(current) = current else { return };
        // If a rule has changed the feed since, it falls due at another time.
        if self.angler.feed_times.contains(&(current, self.now)) {
            self.feed_falls_due(phase, feed, current);
        }
    }

    fn feed_falls_due(&mut self, phase: usize, feed: usize, current: LooseFeed) {
        // Once the plan's bait is used up there is nothing to throw, and the angler does not try.
        if self.within_limit_kg(current.amount_kg) <= 0.0 {
            return;
        }
        self.announce(Event::LooseFeedDue { phase, feed });
        if !self.angler.feed_due.contains(&current) {
            self.angler.feed_due.push(current);
        }
        self.angler.feed_times.retain(|&(old, _)| old != current);
        self.schedule_feed(phase, feed, current, self.now.after(current.every_s));
        if self.angler.is_waiting() {
            self.throw_next();
        }
    }

    /// Schedules the next time of one feed.
    pub(super) fn schedule_feed(
        &mut self,
        phase: usize,
        feed: usize,
        current: LooseFeed,
        at: Time,
    ) {
        self.angler.feed_times.push((current, at));
        self.agenda.schedule(at, rank::ANGLER, Event::LooseFeedDue { phase, feed });
    }

    /// Starts on the next handful that is due; returns whether there is one.
    pub(super) fn throw_next(&mut self) -> bool {
        if self.angler.feed_due.is_empty() {
            return false;
        }
        let feed = self.angler.feed_due.remove(0);
        let takes_s = self.task_time_s(feed.method.throw_s(&self.day.angler));
        self.start_task(Activity::Feeding, NextStep::Throw { feed }, takes_s);
        true
    }

    /// A handful hits the water over its line.
    pub(super) fn throw_feed(&mut self, feed: LooseFeed) {
        let amount_kg = self.within_limit_kg(feed.amount_kg);
        if amount_kg <= 0.0 {
            return;
        }
        self.announce(Event::LooseFeedThrown { line: feed.line, mass_kg: amount_kg });
        self.outcome.bait.loose_kg += amount_kg;
        self.outcome.bait_by_recipe_kg[feed.recipe.0] += amount_kg;
        let recipe = &self.day.recipes[feed.recipe];
        let depth_m = self.swims[feed.line].depth_m;
        let day = self.day;
        let mut falling = FallingBait::new(recipe, amount_kg, depth_m, &day.fluid, &day.bait);
        if feed.method.falls_whole() {
            falling.fall_s = depth_m / day.angler.sink_m_s;
        }
        let attractant_mol_kg = recipe.attractant_mol_kg * day.bait.attractant_factor;
        self.add_fines(feed.line, falling.hanging_kg, attractant_mol_kg);
        let method = feed.method;
        self.throws.push(Throw {
            falling,
            attractant_mol_kg,
            feed: recipe.feed(),
            method,
            is_down: false,
        });
        let throw = (self.throws.len() - 1) as u32;
        let lands = self.now.after(falling.fall_s);
        self.agenda.schedule(lands, rank::BAIT, Event::FeedReachesBed { line: feed.line, throw });
        if method.falls_whole() {
            self.on_feeder_splash(feed.line, self.swims[feed.line].at, amount_kg);
        } else {
            let loud_kg = amount_kg * method.loudness_share(&day.angler);
            let mouthfuls = falling.food_kg / recipe.mouthful_kg;
            self.on_loose_feed_splash(feed.line, loud_kg, mouthfuls);
        }
    }

    /// The part of an amount that the plan's bait limit still allows [kg].
    pub(super) fn within_limit_kg(&self, amount_kg: f64) -> f64 {
        let left_kg = self
            .plan
            .bait_limit_kg
            .map_or(f64::INFINITY, |limit_kg| (limit_kg - self.outcome.bait_kg()).max(0.0));
        amount_kg.min(left_kg)
    }
}
