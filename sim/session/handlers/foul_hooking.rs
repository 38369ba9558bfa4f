//! Foul-hooking: strikes at line bites, and rigs that are wound in past fish.

use crate::angler::{HookPosition, draw_foul_in_passing};
use crate::engine::Observer;
use crate::fish::FishId;
use crate::session::event::Event;
use crate::session::world::World;

impl<W: Observer<Event>> World<'_, W> {
    /// The angler may strike at a line bite, hands free: the fish that touched the line is foul-hooked or flees.
    pub(super) fn strike_at_touch(&mut self, touch: u32) {
        let params = &self.day.angler;
        // Drawn even if the hands are busy, so that a busy moment changes no later strike.
        let strikes = self.dice.foul_hooking.bernoulli(params.strikes_at_touch);
        if !strikes || !self.angler.is_waiting() || !self.rod.bait_in_water() {
            return;
        }
        self.announce(Event::AnglerStrikes { touch });
        let Some(fish) = self.fish_that_touched() else { return };
        if self.dice.foul_hooking.bernoulli(params.fouls_at_strike) {
            self.hook_fish(fish, HookPosition::Outside);
        } else {
            self.flee(fish, 1.0);
            self.wind_in();
        }
    }

    /// Draws the fish that touched the line, in proportion to how often each touches it.
    fn fish_that_touched(&mut self) -> Option<FishId> {
        let params = &self.day.angler;
        let swim = &self.swims[self.rod.tackle.line];
        let up_per_h = params.touch_up_per_h * swim.up.len() as f64;
        let all_per_h = up_per_h + params.touch_below_per_h * swim.below.len() as f64;
        let drawn_per_h = self.dice.foul_hooking.uniform() * all_per_h;
        let (layer, rest_per_h, fish_per_h) = if drawn_per_h < up_per_h {
            (&swim.up, drawn_per_h, params.touch_up_per_h)
        } else {
            (&swim.below, drawn_per_h - up_per_h, params.touch_below_per_h)
        };
        let slot = (rest_per_h / fish_per_h) as usize;
        layer.get(slot).or(layer.last()).copied()
    }

    /// The fish that a rig hooks while it is wound in past those up in the water; `None` in most cases.
    pub(super) fn foul_in_passing(&mut self) -> Option<FishId> {
        let up = &self.swims[self.rod.tackle.line].up;
        if !draw_foul_in_passing(up.len(), &self.day.angler, &mut self.dice.foul_hooking) {
            return None;
        }
        let slot = (self.dice.foul_hooking.uniform() * up.len() as f64) as usize;
        up.get(slot).copied()
    }
}
