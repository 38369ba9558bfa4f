//! Bait: loads open, feed lands, scent is released, hookbaits are lost.

use crate::engine::Observer;
use crate::numerics::square;
use crate::session::event::Event;
use crate::session::rod::{HookbaitState, Load};
use crate::session::world::{World, rank};
use crate::water::LineId;

impl<W: Observer<Event>> World<'_, W> {
    /// The load starts to open: part of it is down, and a hookbait on top can be taken.
    pub(super) fn load_opens(&mut self, cast: u32) {
        if !self.rod.is_fishing(cast) {
            return;
        }
        self.announce(Event::LoadOpens { cast });
        let part = self.rod.load.take_share(self.day.bait.first_share);
        self.drop_load(part);
        if !self.rod.tackle.buried {
            let on_pile = self.rod.opening.is_some_and(|opening| opening.on_pile);
            self.expose_hookbait(if on_pile {
                HookbaitState::OnPile
            } else {
                HookbaitState::InScatter
            });
        }
        self.encourage_by_load();
    }

    /// All of the load is down: a buried hookbait lies in the middle of the pile.
    pub(super) fn load_is_down(&mut self, cast: u32) {
        if !self.rod.is_fishing(cast) {
            return;
        }
        self.announce(Event::LoadIsDown { cast });
        let rest = std::mem::take(&mut self.rod.load);
        self.drop_load(rest);
        if self.rod.tackle.buried {
            self.expose_hookbait(HookbaitState::OnPile);
        }
        self.encourage_by_load();
    }

    /// Part of the load came down: fish on the bed search on.
    fn encourage_by_load(&mut self) {
        let line = self.rod.tackle.line;
        let pile = &self.swims[line].pile;
        let (food_kg, feed) = (pile.food_kg, pile.feed);
        self.encourage_search(line, food_kg, feed);
    }

    /// Adds part of the load to the pile.
    fn drop_load(&mut self, part: Load) {
        let line = self.rod.tackle.line;
        self.lose_bait(line);
        let swim = &mut self.swims[line];
        if let Some(feed) = part.feed {
            swim.pile.add(part.food_kg, feed);
        }
        swim.inert_kg += part.inert_kg;
        let wet_kg = part.food_kg + part.inert_kg;
        self.add_fines(line, part.hanging_kg, part.attractant_mol_kg);
        self.add_attractant(line, wet_kg * part.attractant_mol_kg);
    }

    /// Makes the hookbait available to fish, until it is lost.
    ///
    /// A hookbait that tempts no fish is none: the hook is bare.
    pub(super) fn expose_hookbait(&mut self, hook: HookbaitState) {
        if self.day.hookbaits[self.rod.tackle.hookbait].temptation <= 0.0 {
            self.rod.hook = HookbaitState::Bare;
            return;
        }
        self.count_presence();
        self.rod.hook = hook;
        let lasts_s = self.day.hookbaits[self.rod.tackle.hookbait].lasts_s
            * self.day.bait.lasts_factor
            / self.day.vigour;
        let lost_after_s = self.dice.bait.exponential(1.0) * lasts_s;
        if lost_after_s.is_finite() {
            let event = Event::HookbaitGone { cast: self.rod.cast };
            self.agenda.schedule(self.now.after(lost_after_s), rank::BAIT, event);
        }
    }

    /// The hookbait is robbed, knocked off or buried; the angler cannot see it.
    pub(super) fn hookbait_gone(&mut self, cast: u32) {
        if self.rod.is_fishing(cast) && self.rod.hookbait_available() {
            self.announce(Event::HookbaitGone { cast });
            self.count_presence();
            self.rod.hook = HookbaitState::Bare;
        }
    }

    /// Loose feed reaches the bed, less what fish up in the water took on its way.
    pub(super) fn feed_reaches_bed(&mut self, line: LineId, throw: u32) {
        self.announce(Event::FeedReachesBed { line, throw });
        self.lose_bait(line);
        let method = self.throws[throw as usize].method;
        let taken_kg = match method.falls_whole() {
            true => 0.0,
            false => self.intercept(line, throw as usize),
        };
        let throw = &mut self.throws[throw as usize];
        throw.is_down = true;
        let landed_kg = throw.falling.food_kg - taken_kg;
        let wet_kg = landed_kg + throw.falling.inert_kg;
        let attractant_mol = wet_kg * throw.attractant_mol_kg;
        let feed = throw.feed;
        let radius_m = self.day.bait.scatter_radius_m;
        let swim = &mut self.swims[line];
        if let Some(times) = method.radius_times(&self.day.angler) {
            let area_m2 = std::f64::consts::PI * square(times * radius_m);
            swim.scatter.spread_over(area_m2, landed_kg);
        }
        swim.scatter.add(landed_kg, feed);
        swim.inert_kg += throw.falling.inert_kg;
        self.add_attractant(line, attractant_mol);
        self.follow_feed_down(line, landed_kg, taken_kg);
        self.encourage_search(line, landed_kg, feed);
    }

    /// The scent that leached from bait on the bed in this step becomes one puff, stretched along the flow.
    pub(super) fn bait_leaches(&mut self, line: LineId) {
        self.announce(Event::BaitLeaches { line });
        self.lose_bait(line);
        if self.swims[line].end_puff(self.now, &self.day.bait) {
            self.schedule_leaching(line);
        }
    }

    /// Adds fines that do not sink to a line.
    pub(super) fn add_fines(&mut self, line: LineId, fines_kg: f64, attractant_mol_kg: f64) {
        let (swim, params) = (&mut self.swims[line], &self.day.bait);
        let lost_kg = swim.add_fines(fines_kg, attractant_mol_kg, self.now, params);
        self.outcome.bait.lost_kg += lost_kg;
    }

    /// Adds attractant in bait on the bed of a line, and schedules the first puff if it starts to leach.
    fn add_attractant(&mut self, line: LineId, amount_mol: f64) {
        if self.swims[line].add_attractant(amount_mol, self.now, &self.day.bait) {
            self.schedule_leaching(line);
        }
    }

    fn schedule_leaching(&mut self, line: LineId) {
        let next = self.now.after(self.day.bait.leach_step_s);
        self.agenda.schedule(next, rank::BAIT, Event::BaitLeaches { line });
    }

    /// Brings the losses of a line's bait up to date.
    pub(super) fn lose_bait(&mut self, line: LineId) {
        self.outcome.bait.lost_kg += self.swims[line].lose_until(self.now, self.day);
    }
}
