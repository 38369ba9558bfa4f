//! Fish between bed and surface: they rise for falling feed, take it, and go down again.

use crate::engine::Observer;
use crate::fish::{FishId, FishState, Layer, Trait, full_mouth_kg, handling_time_s, size_fit};
use crate::session::event::Event;
use crate::session::world::World;
use crate::water::LineId;

impl<W: Observer<Event>> World<'_, W> {
    /// Feed falls: fish on the bed compare it with what lies there, and some rise for it.
    pub(super) fn rise_to_feed(&mut self, line: LineId, falling: f64) {
        let lying = self.swims[line].mouthfuls();
        let falling_share = falling / (falling + lying).max(1e-9);
        for slot in (0..self.swims[line].below.len()).rev() {
            let fish = self.swims[line].below[slot];
            let rises = self.day.traits[self.fish[fish].shoal][Trait::Rises];
            if !self.fish[fish].dice.bernoulli(rises * falling_share) {
                continue;
            }
            self.leave_layer(fish);
            self.join_layer(fish, line, Layer::Up);
            self.fish[fish].next_generation();
            self.announce(Event::FishRises { fish, line });
            if self.fish[fish].dice.bernoulli(self.day.fish.shows_share) {
                self.announce(Event::FishShows { fish, line });
                self.outcome.swim.shown += 1;
            }
            self.wait_up(fish);
        }
    }

    /// A fish that is up waits for more feed, for a time.
    fn wait_up(&mut self, fish: FishId) {
        let wait_s = self.fish[fish].dice.exponential(self.day.fish.up_patience_s);
        let until = self.now.after(wait_s);
        self.schedule_fish(fish, until, |fish, mind| Event::FishGoesDown { fish, mind });
    }

    /// Fish that are up take falling feed, each as fast as it can swallow; returns the mass taken [kg].
    pub(super) fn intercept(&mut self, line: LineId, throw: usize) -> f64 {
        let throw = self.throws[throw];
        let up = self.swims[line].up.len();
        let mut left_kg = throw.falling.food_kg;
        for slot in 0..up {
            let fish = &mut self.fish[self.swims[line].up[slot]];
            fish.appetite.digest_until(self.now, self.gut_rate_per_s);
            let hunger = fish.appetite.hunger();
            let full_kg = full_mouth_kg(throw.feed.mouthful_kg, fish.length_m);
            let item_kg = throw.feed.item_kg.min(full_kg);
            let each_s =
                handling_time_s(fish.cube_root_kg, item_kg / full_kg, hunger, up, &self.day.fish);
            let fit = size_fit(throw.feed.diameter_m, fish.gape_m, &self.day.fish);
            let could_kg = fit * throw.falling.fall_s / each_s * item_kg;
            let fair_kg = left_kg / (up - slot) as f64;
            let room_kg = hunger * fish.appetite.capacity_kg;
            let taken_kg = could_kg.min(fair_kg).min(room_kg);
            fish.appetite.eat(taken_kg);
            fish.forage.add_mouthfuls(self.now, taken_kg / full_kg, &self.day.fish);
            left_kg -= taken_kg;
        }
        let taken_kg = throw.falling.food_kg - left_kg;
        self.outcome.bait.eaten_kg += taken_kg;
        let mouthfuls = taken_kg / throw.feed.mouthful_kg;
        self.swims[line].add_mouthfuls_taken(mouthfuls, self.now, self.day);
        taken_kg
    }

    /// Fish that are up follow the feed that passed them; the rest wait for more.
    pub(super) fn follow_feed_down(&mut self, line: LineId, landed_kg: f64, taken_kg: f64) {
        let passed_share = landed_kg / (landed_kg + taken_kg).max(1e-12);
        for slot in (0..self.swims[line].up.len()).rev() {
            let fish = self.swims[line].up[slot];
            if self.fish[fish].dice.bernoulli(passed_share) {
                self.fish_goes_down(fish, self.fish[fish].generation);
            } else {
                self.wait_up(fish);
            }
        }
    }

    /// A fish that was up goes back to the bed.
    pub(super) fn fish_goes_down(&mut self, fish: FishId, generation: u32) {
        if !self.is_current(fish, generation) {
            return;
        }
        let FishState::Feeding(line, Layer::Up) = self.fish[fish].state else { return };
        self.announce(Event::FishGoesDown { fish, mind: generation });
        self.leave_layer(fish);
        self.join_layer(fish, line, Layer::Bottom);
        let scatter = &self.swims[line].scatter;
        let (food_kg, feed) = (scatter.food_kg, scatter.feed);
        self.encourage_fish(fish, food_kg, feed);
        self.search(fish);
    }
}
