//! Bites: a fish meets the hookbait, takes or refuses it, and is hooked or missed.

use crate::angler::{HookPosition, hooks_share};
use crate::engine::Observer;
use crate::fish::{FishId, FishState, boldness_towards_tackle, size_fit, take_chance};
use crate::session::activity::Activity;
use crate::session::event::Event;
use crate::session::world::{World, rank};

impl<W: Observer<Event>> World<'_, W> {
    /// A fish finds the hookbait: it takes it or refuses.
    pub(super) fn meet_hookbait(&mut self, index: FishId) {
        self.outcome.swim.hookbait_met += 1;
        let hookbait = &self.day.hookbaits[self.rod.tackle.hookbait];
        let unshy = self.boldness_left_by_tackle();
        let fish = &mut self.fish[index];
        let params = &self.day.fish;
        let fits = size_fit(hookbait.diameter_m, fish.gape_m, params);
        let bold = fish.fright.boldness_left(self.now, params);
        let readiness = fish.boldness * hookbait.temptation * fits * bold * unshy;
        let p = take_chance(fish.mass_kg(), readiness, fish.experience, &self.day.fish);
        if fish.dice.bernoulli(p) {
            self.take_hookbait(index);
        } else {
            self.refuse_hookbait(index);
        }
    }

    /// Factor on the readiness of any fish to take, by the line that it sees and the hook; 1 if neither is stated.
    fn boldness_left_by_tackle(&self) -> f64 {
        let end = self.rod.tackle.end;
        if !end.is_stated() {
            return 1.0;
        }
        let depth_m = self.swims[self.rod.tackle.line].depth_m;
        let brightness = self.day.courses.brightness_at(depth_m, self.now.seconds());
        boldness_towards_tackle(
            end.relative_diameter(&self.day.angler),
            self.day.line_seen * brightness,
            end.relative_gape(),
            &self.day.fish,
        )
    }

    /// A fish refuses the hookbait: it avoids hookbaits for a while, and may have displaced this one.
    fn refuse_hookbait(&mut self, index: FishId) {
        let cast = self.rod.cast;
        self.announce(Event::FishRefuses { fish: index, cast });
        self.outcome.swim.refused += 1;
        let displaced_share = self.day.hookbaits[self.rod.tackle.hookbait].displaced_share;
        let fish = &mut self.fish[index];
        let avoids_s = fish.dice.exponential(self.day.fish.refusal_memory_s);
        fish.avoids_hookbaits_until = self.now.after(avoids_s);
        if fish.dice.bernoulli(displaced_share) {
            self.hookbait_gone(cast);
        }
        if let FishState::Feeding(line, _) = self.fish[index].state {
            self.swallow(index, line, 0.0, 1.0);
        }
    }

    /// A fish takes the hookbait, a bite: it is hooked or missed.
    fn take_hookbait(&mut self, fish: FishId) {
        self.announce(Event::FishTakes { fish, cast: self.rod.cast });
        self.outcome.bites += 1;
        let throwing = self.angler.activity == Activity::Feeding;
        if throwing {
            self.angler.postpone_throw();
        }
        let share = hooks_share(self.rod.tackle.feeder_kg, throwing, &self.day.angler);
        if self.dice.fight.bernoulli(share) {
            self.hook_fish(fish, HookPosition::Mouth);
        } else {
            self.flee(fish, 1.0);
            self.wind_in();
        }
    }

    /// Schedules the next bite, where waiting times are given.
    pub(super) fn schedule_given_bite(&mut self, cast: u32) {
        let Some(waiting_times) = &mut self.waiting_times else { return };
        let wait_s = waiting_times.draw_s();
        if wait_s.is_finite() {
            self.agenda.schedule(self.now.after(wait_s), rank::FISH, Event::BiteComes { cast });
        }
    }

    /// A given waiting time is over: the next fish of the stock that was not kept takes the hookbait.
    ///
    /// Positions of fish do not matter here: a fish that fled or was returned may be the next.
    pub(super) fn bite_comes(&mut self, cast: u32) {
        if !self.rod.is_fishing(cast) {
            return;
        }
        let first = self.outcome.bites as usize;
        let stock = self.fish.len();
        let mut candidates = (0..stock).map(|step| FishId((first + step) % stock));
        if let Some(fish) = candidates.find(|&fish| self.fish[fish].state != FishState::Kept) {
            self.take_hookbait(fish);
        }
    }
}
