//! Fish that feed on the bed: they search, find a mouthful, swallow it and give up.

use crate::engine::{Observer, Time};
use crate::fish::{FishId, FishState, Layer, handling_time_s, search_rate_per_s};
use crate::session::event::{Event, LeaveReason};
use crate::session::rod::HookbaitState;
use crate::session::world::World;
use crate::water::LineId;

/// Hunger below which a fish is full.
const FULL_BELOW: f64 = 0.05;

impl<W: Observer<Event>> World<'_, W> {
    /// Where the hookbait is for a fish at a line; `None` if it cannot take it or avoids hookbaits.
    fn hook_for(&self, fish: FishId, line: LineId) -> Option<HookbaitState> {
        let available = self.rod.hookbait_available() && self.rod.tackle.line == line;
        (available && self.fish[fish].avoids_hookbaits_until <= self.now).then_some(self.rod.hook)
    }

    /// Rates at which a fish would find a mouthful on the pile and in the scatter, hookbait included [1/s].
    fn search_rates_per_s(&self, fish: FishId, line: LineId) -> (f64, f64) {
        let swim = &self.swims[line];
        let hook = self.hook_for(fish, line);
        let hookbaits = |place: HookbaitState| f64::from(u8::from(hook == Some(place)));
        let on_pile = swim.pile.mouthfuls() + hookbaits(HookbaitState::OnPile);
        let in_scatter = swim.scatter.mouthfuls() + hookbaits(HookbaitState::InScatter);
        (
            search_rate_per_s(on_pile / swim.pile.area_m2, &self.day.fish),
            search_rate_per_s(in_scatter / swim.scatter.area_m2, &self.day.fish),
        )
    }

    /// A feeding fish searches, once it has swallowed: it finds something, or gives up first.
    ///
    /// It searches where it would find a mouthful sooner. If other fish eat in the meantime, the draw is thinned when
    /// it comes due. New feed, a lost hookbait and a levelled pile make all fish at the line draw again. A fish that
    /// stops avoiding hookbaits does so from its next draw on.
    pub(super) fn search(&mut self, index: FishId) {
        let FishState::Feeding(line, Layer::Bottom) = self.fish[index].state else { return };
        let (pile_per_s, scatter_per_s) = self.search_rates_per_s(index, line);
        let fish = &mut self.fish[index];
        fish.searches_pile = pile_per_s >= scatter_per_s;
        fish.search_rate_per_s = pile_per_s.max(scatter_per_s);
        let starts = fish.handles_until.max(self.now);
        let gives_up = fish.forage.gives_up_at(&self.day.fish).max(starts);
        let finds = if fish.search_rate_per_s > 0.0 {
            starts.after(fish.dice.exponential(1.0) / fish.search_rate_per_s)
        } else {
            Time::NEVER
        };
        if finds < gives_up {
            self.schedule_fish(index, finds, |fish, mind| Event::FishFinds { fish, mind });
        } else {
            self.schedule_fish(index, gives_up, |fish, mind| Event::FishGivesUp { fish, mind });
        }
    }

    /// Restarts the search of every fish on the bed at a line, because what lies there has changed.
    pub(super) fn restart_search(&mut self, line: LineId) {
        for slot in 0..self.swims[line].below.len() {
            self.search(self.swims[line].below[slot]);
        }
    }

    /// New feed arrived: resets the patience of every fish on the bed there and restarts its search.
    pub(super) fn encourage_search(&mut self, line: LineId) {
        for slot in 0..self.swims[line].below.len() {
            let fish = self.swims[line].below[slot];
            self.fish[fish].forage.encourage(self.now, &self.day.fish);
            self.search(fish);
        }
    }

    /// A fish finds a mouthful: feed, or the hookbait.
    pub(super) fn fish_finds(&mut self, index: FishId, generation: u32) {
        if !self.is_current(index, generation) {
            return;
        }
        let FishState::Feeding(line, Layer::Bottom) = self.fish[index].state else { return };
        self.lose_bait(line);
        let (pile_per_s, scatter_per_s) = self.search_rates_per_s(index, line);
        let fish = &mut self.fish[index];
        let on_pile = fish.searches_pile;
        let rate_per_s = if on_pile { pile_per_s } else { scatter_per_s };
        if !fish.dice.bernoulli(rate_per_s / fish.search_rate_per_s) {
            self.search(index);
            return;
        }
        self.announce(Event::FishFinds { fish: index, mind: generation });
        let hook = self.hook_for(index, line);
        let near_hook =
            hook == Some(if on_pile { HookbaitState::OnPile } else { HookbaitState::InScatter });
        let swim = &self.swims[line];
        let mouthfuls = if on_pile { swim.pile.mouthfuls() } else { swim.scatter.mouthfuls() };
        if near_hook && self.fish[index].dice.bernoulli(1.0 / (1.0 + mouthfuls)) {
            self.meet_hookbait(index);
            return;
        }
        if near_hook {
            self.outcome.swim.mouthfuls_beside += 1;
        }
        self.eat_mouthful(index, line, on_pile);
        self.swallow(index, line);
    }

    /// A fish eats one mouthful from the pile or from the scatter.
    fn eat_mouthful(&mut self, index: FishId, line: LineId, on_pile: bool) {
        let swim = &mut self.swims[line];
        let on_bed_kg = swim.pile.food_kg + swim.scatter.food_kg;
        let patch = if on_pile { &mut swim.pile } else { &mut swim.scatter };
        let eaten_kg = patch.take_mouthful();
        if on_bed_kg > 0.0 {
            swim.attractant.lose_share(eaten_kg / on_bed_kg);
        }
        swim.add_mouthfuls_taken(1.0, self.now, self.day);
        self.outcome.bait.eaten_kg += eaten_kg;
        self.announce(Event::FishEats { fish: index, line });
        let fish = &mut self.fish[index];
        fish.forage.add_mouthfuls(self.now, 1.0, &self.day.fish);
        fish.appetite.digest_until(self.now, self.gut_rate_per_s);
        fish.appetite.eat(eaten_kg);
    }

    /// A fish swallows what it has found and searches on, or is full and leaves.
    pub(super) fn swallow(&mut self, fish: FishId, line: LineId) {
        let hunger = self.fish[fish].appetite.hunger();
        if hunger < FULL_BELOW {
            self.leave_line(fish, LeaveReason::Full);
            self.start_next_leg(fish);
            return;
        }
        let feeding = self.swims[line].below.len();
        let takes_s = handling_time_s(self.fish[fish].mass_kg(), hunger, feeding, &self.day.fish);
        self.fish[fish].handles_until = self.now.after(takes_s);
        self.search(fish);
    }

    /// A fish gives up a line; it avoids that line for a while.
    pub(super) fn fish_gives_up(&mut self, index: FishId, generation: u32) {
        if !self.is_current(index, generation) {
            return;
        }
        self.announce(Event::FishGivesUp { fish: index, mind: generation });
        self.outcome.swim.gave_up += 1;
        if let FishState::Feeding(line, _) = self.fish[index].state {
            let fish = &mut self.fish[index];
            let avoids_s = fish.dice.exponential(self.day.fish.disappointment_s);
            fish.forage.learn(self.now, &self.day.fish);
            fish.avoided_line = Some((line, self.now.after(avoids_s)));
        }
        self.leave_line(index, LeaveReason::GaveUp);
        self.start_next_leg(index);
    }
}
