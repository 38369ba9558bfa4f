//! The rig: it is cast, lands, is wound in, and is out of the water at the end.

use crate::angler::{HookPosition, cast as cast_at};
use crate::bait::{FallingBait, LoadStyle, Opening};
use crate::engine::Observer;
use crate::session::activity::Activity;
use crate::session::angler_state::NextStep;
use crate::session::event::Event;
use crate::session::rod::{HookbaitState, HookedFish, Load, RigState};
use crate::session::swim::{Swim, Throw};
use crate::session::world::{World, rank};
use crate::water::{LineId, Point};

/// Distance below which winding in takes no less time [m].
const MIN_WIND_IN_M: f64 = 2.0;

impl<W: Observer<Event>> World<'_, W> {
    /// The rig hits the water and sinks.
    pub(super) fn rig_is_cast(&mut self, cast: u32, line: LineId) {
        self.announce(Event::RigIsCast { cast, line });
        self.outcome.casts += 1;
        self.rod.cast = cast;
        let mark = self.swims[line].at;
        let day = self.day;
        let rig_kg = self.rod.tackle.feeder_kg + self.rod.pressed_kg;
        let wind_m_s = day.courses.wind_m_s.at(self.now.seconds()) * day.water.shelter_share;
        let chart = &self.scenario.chart;
        let landing = cast_at(mark, rig_kg, wind_m_s, chart, &day.angler, &mut self.dice.cast);
        let depth_m = self.scenario.chart.depth_m(landing.at);
        self.rod.landed_at = landing.at;
        self.wet_load(depth_m);
        self.on_feeder_splash(line, landing.at, rig_kg);
        if landing.snagged || landing.short {
            self.fail_cast(landing.snagged);
            return;
        }
        self.rod.rig = RigState::Sinking;
        self.rod.hook = HookbaitState::Hidden;
        self.rod.recast_at = self.now.after(self.rod.tackle.recast_s);
        let sinks_s = depth_m / self.day.angler.sink_m_s;
        self.agenda.schedule(self.now.after(sinks_s), rank::BAIT, Event::FeederLands { cast });
    }

    /// Books the load that goes into the water, loses what washes off, and draws when it opens.
    fn wet_load(&mut self, depth_m: f64) {
        let recipe = &self.day.recipes[self.rod.tackle.recipe];
        let pressed_kg = self.rod.pressed_kg;
        self.outcome.bait.feeder_kg += pressed_kg;
        self.outcome.bait_by_recipe_kg[self.rod.tackle.recipe.0] += pressed_kg;
        let day = self.day;
        let sorted = FallingBait::new(recipe, pressed_kg, depth_m, &day.fluid, &day.bait);
        self.rod.load = Load {
            food_kg: sorted.food_kg,
            inert_kg: sorted.inert_kg,
            hanging_kg: sorted.hanging_kg,
            feed: Some(recipe.feed()),
            attractant_mol_kg: recipe.attractant_mol_kg * self.day.bait.attractant_factor,
        };
        let washed = self.rod.load.take_share(self.day.bait.cast_wash_share);
        self.outcome.bait.lost_kg += washed.mass_kg();
        let style = if self.rod.tackle.buried { LoadStyle::Buried } else { LoadStyle::Top };
        let (compression, params) = (self.rod.tackle.compression, &self.day.bait);
        let opening =
            Opening::draw(recipe, pressed_kg, style, compression, params, &mut self.dice.bait);
        self.rod.opening = Some(opening);
    }

    /// A cast that snagged or fell short is wound in at once; its load is lost.
    fn fail_cast(&mut self, snagged: bool) {
        self.outcome.bait.lost_kg += std::mem::take(&mut self.rod.load).mass_kg();
        self.rod.bring_ashore();
        if snagged {
            self.outcome.swim.snags += 1;
            let takes_s = self.task_time_s(self.day.angler.snag_s);
            self.start_task(Activity::Other, NextStep::Decide, takes_s);
        } else {
            let takes_s = self.wind_in_time_s();
            self.start_task(Activity::Casting, NextStep::Decide, takes_s);
        }
    }

    /// The feeder reaches the bed: the wait begins.
    pub(super) fn feeder_lands(&mut self, cast: u32) {
        if self.rod.cast != cast || self.rod.rig != RigState::Sinking {
            return;
        }
        self.announce(Event::FeederLands { cast });
        self.count_presence();
        self.rod.rig = RigState::Bed;
        let (line, pressed_kg) = (self.rod.tackle.line, self.rod.pressed_kg);
        let opening = self.rod.opening.expect("every cast draws an opening");
        self.swims[line].set_pile_place(self.rod.landed_at, pressed_kg, self.day);
        if pressed_kg > 0.0 {
            let opens = self.now.after(opening.starts_s);
            let down = self.now.after(opening.down_s);
            self.agenda.schedule(opens, rank::BAIT, Event::LoadOpens { cast });
            self.agenda.schedule(down, rank::BAIT, Event::LoadIsDown { cast });
        } else {
            self.expose_hookbait(HookbaitState::OnPile);
            self.restart_search(line);
        }
        let recast_at = self.rod.recast_at.max(self.now);
        self.agenda.schedule(recast_at, rank::ANGLER, Event::RigIsWoundIn { cast });
        self.schedule_given_bite(cast);
        self.wait_for_bite();
        self.leave_other_line();
        if self.rod.bait_in_water() {
            self.throw_next();
        }
    }

    /// The longest wait of a cast is over.
    pub(super) fn rig_is_wound_in(&mut self, cast: u32) {
        if self.rod.is_fishing(cast) {
            self.wind_in_when_free(cast);
        }
    }

    /// Winds in now, or as soon as the handful in hand is thrown.
    pub(super) fn wind_in_when_free(&mut self, cast: u32) {
        if self.rod.is_fishing(cast) && self.angler.is_waiting() {
            self.wind_in();
        } else {
            self.rod.recast_at = self.rod.recast_at.min(self.now);
        }
    }

    /// Takes the rig out of the water.
    pub(super) fn wind_in(&mut self) {
        self.announce(Event::RigIsWoundIn { cast: self.rod.cast });
        if let Some(fish) = self.foul_in_passing() {
            self.hook_fish(fish, HookPosition::Outside);
            return;
        }
        self.rig_leaves_bed(None);
        let takes_s = self.wind_in_time_s();
        self.start_task(Activity::Casting, NextStep::Decide, takes_s);
    }

    /// The rig leaves the bed: the rest of the load is lost, and its pile is levelled.
    pub(super) fn rig_leaves_bed(&mut self, hooked: Option<HookedFish>) {
        self.count_presence();
        self.outcome.bait.lost_kg += self.rod.leave_bed(hooked).mass_kg();
        self.swims[self.rod.tackle.line].level_pile();
        self.restart_search(self.rod.tackle.line);
    }

    fn wind_in_time_s(&mut self) -> f64 {
        let distance_m = self.rod.landed_at.distance_m(Point::default()).max(MIN_WIND_IN_M);
        self.task_time_s(distance_m / self.day.angler.wind_in_m_s)
    }

    /// The session ends: a fish that is being played is landed or lost, and all accounts are closed.
    pub(super) fn session_ends(&mut self) {
        if let Some(HookedFish { fish, .. }) = self.rod.hooked {
            self.finish_fight(fish);
        }
        self.count_presence();
        self.angler.book_time(self.now, &mut self.outcome.time_s);
        let lost_kg: f64 =
            self.swims.iter_mut().map(|swim| swim.lose_until(self.now, self.day)).sum();
        let bait = &mut self.outcome.bait;
        bait.lost_kg += lost_kg;
        bait.on_bed_kg = self.swims.iter().map(Swim::on_bed_kg).sum();
        bait.hanging_kg = self.swims.iter().map(Swim::hanging_kg).sum::<f64>()
            + self.throws.iter().map(Throw::still_falling_kg).sum::<f64>();
        bait.on_feeder_kg = self.rod.load.mass_kg();
        self.announce(Event::SessionEnds);
    }
}
