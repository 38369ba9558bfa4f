//! What happens to bait: loads open, feed lands, scent is let go, hookbaits go.

use super::event::Event;
use super::rod::{HookIs, Load};
use super::world::{World, rank};
use crate::bait::Puff;
use crate::engine::{Agenda, Watch};

/// Share of a load that is down when it has only started to open.
const FIRST_SHARE: f64 = 0.5;

impl<W: Watch<Event>> World<'_, W> {
    /// The load starts to open: part of it is down, and a hookbait on top can be taken.
    pub(super) fn load_opens(&mut self, cast: u32, agenda: &mut Agenda<Event>) {
        if !self.rod.fishes(cast) {
            return;
        }
        self.show(Event::LoadOpens { cast });
        let part = self.rod.load.part(FIRST_SHARE);
        self.load_comes_down(part, agenda);
        if !self.rod.buried {
            let on_pile = self.rod.opening.is_some_and(|opening| opening.on_pile);
            let hook = if on_pile { HookIs::OnPile } else { HookIs::InScatter };
            self.hookbait_shows(hook, agenda);
        }
        self.search_again(self.rod.line, agenda);
    }

    /// All of the load is down: a buried hookbait lies at the middle of the pile.
    pub(super) fn load_is_down(&mut self, cast: u32, agenda: &mut Agenda<Event>) {
        if !self.rod.fishes(cast) {
            return;
        }
        self.show(Event::LoadIsDown { cast });
        let rest = std::mem::take(&mut self.rod.load);
        self.load_comes_down(rest, agenda);
        if self.rod.buried {
            self.hookbait_shows(HookIs::OnPile, agenda);
        }
        self.search_again(self.rod.line, agenda);
    }

    fn load_comes_down(&mut self, part: Load, agenda: &mut Agenda<Event>) {
        let line = self.rod.line;
        self.lose_bait(line);
        let swim = &mut self.swims[line];
        swim.pile.add(part.food_kg, part.mouthful_kg);
        swim.inert_kg += part.inert_kg;
        let wet_kg = part.food_kg + part.inert_kg;
        self.fines_hang(line, part.hanging_kg, part.attractant_mol_kg);
        self.starts_to_leach(line, wet_kg * part.attractant_mol_kg, agenda);
    }

    /// The hookbait can be taken from now on, until it goes.
    pub(super) fn hookbait_shows(&mut self, hook: HookIs, agenda: &mut Agenda<Event>) {
        self.count_presence();
        self.rod.hook = hook;
        let lasts_s = self.scenario.hookbaits[self.rod.hookbait].lasts_s;
        let goes_s = self.bait_dice.exponential(1.0) * lasts_s;
        if goes_s.is_finite() {
            let event = Event::HookbaitGone { cast: self.rod.cast };
            agenda.enter(self.now.after(goes_s), rank::BAIT, event);
        }
    }

    /// The hookbait is robbed, knocked off or buried; the angler does not see it.
    pub(super) fn hookbait_gone(&mut self, cast: u32) {
        if self.rod.fishes(cast) && self.rod.hookbait_there() {
            self.show(Event::HookbaitGone { cast });
            self.count_presence();
            self.rod.hook = HookIs::Bare;
        }
    }

    /// Loose feed reaches the bed, less what fish up in the water took on its way.
    pub(super) fn feed_reaches_bed(&mut self, line: usize, throw: u32, agenda: &mut Agenda<Event>) {
        self.show(Event::FeedReachesBed { line, throw });
        self.lose_bait(line);
        let taken_kg = self.intercept(line, throw as usize);
        let throw = &mut self.throws[throw as usize];
        throw.down = true;
        let landed_kg = throw.falling.food_kg - taken_kg;
        let swim = &mut self.swims[line];
        swim.scatter.add(landed_kg, throw.mouthful_kg);
        swim.inert_kg += throw.falling.inert_kg;
        let leaches_mol = (landed_kg + throw.falling.inert_kg) * throw.attractant_mol_kg;
        self.starts_to_leach(line, leaches_mol, agenda);
        self.follow_down(line, landed_kg, taken_kg, agenda);
        self.search_again(line, agenda);
    }

    /// Fines that will not sink hang over a line and give up their scent at once.
    pub(super) fn fines_hang(&mut self, line: usize, hanging_kg: f64, attractant_mol_kg: f64) {
        if hanging_kg <= 0.0 {
            return;
        }
        let lost_kg = self.swims[line].cloud.thin_until(self.now, self.day.bait.cloud_loss_per_s);
        self.outcome.bait.lost_kg += lost_kg;
        self.swims[line].cloud.hanging_kg += hanging_kg;
        let variance_m2 = self.day.bait.puff_radius_m.powi(2);
        let swim = &mut self.swims[line];
        let amount_mol = hanging_kg * attractant_mol_kg;
        swim.plume.release(Puff::round(amount_mol, swim.at, variance_m2, self.now));
    }

    /// Bait comes to lie that leaches from now on.
    fn starts_to_leach(&mut self, line: usize, amount_mol: f64, agenda: &mut Agenda<Event>) {
        let swim = &mut self.swims[line];
        let given_mol =
            if swim.leaching { swim.leach_until(self.now, &self.day.bait) } else { 0.0 };
        if given_mol > 0.0 {
            self.gives_off(line, given_mol);
            self.swims[line].plume.puff_is_whole(self.now);
        }
        let swim = &mut self.swims[line];
        swim.attractant.add(amount_mol, self.day.bait.leach_fast_share);
        if !swim.leaching {
            if swim.attractant.spent() {
                return;
            }
            swim.leaching = true;
            swim.leached_at = self.now;
            self.leaches_on(line, agenda);
        }
        self.gives_off(line, 0.0);
    }

    /// What bait on the bed has let go of since the last puff becomes one, drawn out along the way the water went.
    pub(super) fn bait_leaches(&mut self, line: usize, agenda: &mut Agenda<Event>) {
        self.show(Event::BaitLeaches { line });
        self.lose_bait(line);
        let swim = &mut self.swims[line];
        let given_mol = swim.leach_until(self.now, &self.day.bait);
        swim.leaching = !swim.attractant.spent();
        self.gives_off(line, given_mol);
        self.swims[line].plume.puff_is_whole(self.now);
        if self.swims[line].leaching {
            self.leaches_on(line, agenda);
        }
    }

    fn leaches_on(&mut self, line: usize, agenda: &mut Agenda<Event>) {
        let next = self.now.after(self.day.bait.leach_step_s);
        agenda.enter(next, rank::BAIT, Event::BaitLeaches { line });
    }

    /// So much has leached, and bait goes on leaching as fast as the next step will have it in the mean.
    fn gives_off(&mut self, line: usize, given_mol: f64) {
        let params = &self.day.bait;
        let swim = &mut self.swims[line];
        let rate_mol_s = swim.leaches_mol_s(params);
        let variance_m2 = params.puff_radius_m.powi(2);
        swim.plume.gives_off(swim.at, variance_m2, given_mol, rate_mol_s, self.now);
    }

    /// Brings the losses of a line's bait up to now.
    pub(super) fn lose_bait(&mut self, line: usize) {
        self.outcome.bait.lost_kg += self.swims[line].lose_until(self.now, self.day);
    }
}
