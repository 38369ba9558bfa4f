//! Where hook and fish meet outside the mouth: strikes at line bites, and rigs wound in past fish.

use super::event::Event;
use super::rod::Activity;
use super::world::World;
use crate::angler::{Hold, fouls_in_passing};
use crate::engine::{Agenda, Watch};

impl<W: Watch<Event>> World<'_, W> {
    /// At a line bite the angler may strike, hands free: the fish that touched the line is hooked or put to flight.
    pub(super) fn strikes_at(&mut self, touch: u32, agenda: &mut Agenda<Event>) {
        let params = &self.day.angler;
        // Drawn whether or not the hands are free, so that a busy moment shifts no later strike.
        let strikes = self.foul_dice.chance(params.strikes_at_touch);
        if !strikes || self.hands.activity != Activity::Waiting || !self.rod.bait_in_water() {
            return;
        }
        self.show(Event::AnglerStrikes { touch });
        let swim = &self.swims[self.rod.line];
        let up_per_h = params.touch_up_per_h * swim.up.len() as f64;
        let all_per_h = up_per_h + params.touch_below_per_h * swim.below.len() as f64;
        let drawn_per_h = self.foul_dice.uniform() * all_per_h;
        let (fish, left_per_h, each_per_h) = if drawn_per_h < up_per_h {
            (&swim.up, drawn_per_h, params.touch_up_per_h)
        } else {
            (&swim.below, drawn_per_h - up_per_h, params.touch_below_per_h)
        };
        let slot = (left_per_h / each_per_h) as usize;
        let Some(&fish) = fish.get(slot).or(fish.last()) else { return };
        if self.foul_dice.chance(params.fouls_at_strike) {
            self.fish_is_hooked(fish, Hold::Outside, agenda);
        } else {
            self.flee(fish, agenda);
            self.wind_in(agenda);
        }
    }

    /// The fish that a rig hooks on its way in, if it hooks one of those up in the water over it.
    pub(super) fn fouled_in_passing(&mut self) -> Option<usize> {
        let up = &self.swims[self.rod.line].up;
        if !fouls_in_passing(up.len(), &self.day.angler, &mut self.foul_dice) {
            return None;
        }
        let slot = (self.foul_dice.uniform() * up.len() as f64) as usize;
        up.get(slot).copied()
    }
}
