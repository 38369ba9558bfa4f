//! Fights: a fish is hooked, played, and netted or lost.

use crate::angler::{Fight, HookPosition};
use crate::engine::Observer;
use crate::fish::{FishId, FishState, Sound, Trait};
use crate::scenario::SessionKind;
use crate::session::activity::Activity;
use crate::session::angler_state::NextStep;
use crate::session::event::{Event, LeaveReason};
use crate::session::outcome::Catch;
use crate::session::rod::HookedFish;
use crate::session::world::{World, rank};
use crate::water::LineId;

/// Chance to be startled up to which no random number is drawn.
const MIN_CHANCE: f64 = 1e-3;

impl<W: Observer<Event>> World<'_, W> {
    /// A fish is hooked, in the mouth or elsewhere: the fight begins, and its end is scheduled.
    pub(super) fn hook_fish(&mut self, fish: FishId, hold: HookPosition) {
        if hold == HookPosition::Outside {
            self.announce(Event::FishIsFoulHooked { fish });
            self.outcome.foul_hooked += 1;
        }
        self.announce(Event::FishIsHooked { fish });
        self.leave_line(fish, LeaveReason::Hooked);
        let line = self.rod.tackle.line;
        self.rig_leaves_bed(Some(HookedFish { fish, hold }));
        self.fish[fish].state = FishState::Hooked;
        self.fish[fish].experience.hooked += 1;
        let fight = self.fight_with(fish, hold);
        let takes_s = fight.draw_time_s(&self.day.angler, &mut self.dice.fight);
        let landed = fight.draw_landed(&self.day.angler, &mut self.dice.fight);
        self.start_task(Activity::Playing, NextStep::Decide, f64::INFINITY);
        let event = if landed { Event::FishIsNetted { fish } } else { Event::FishIsLost { fish } };
        self.agenda.schedule(self.now.after(takes_s), rank::ANGLER, event);
        self.fight_startles(line, fish, false);
    }

    /// A fish on the rod, with the tackle that holds it.
    fn fight_with(&self, fish: FishId, hold: HookPosition) -> Fight {
        Fight {
            mass_kg: self.fish[fish].mass_kg(),
            hold,
            end: self.rod.tackle.end,
            cover_m: self.scenario.chart.cover_distance_m(self.rod.landed_at),
        }
    }

    /// A fight, or the loss of a fish, disturbs its place and startles some of the fish near it.
    fn fight_startles(&mut self, line: LineId, hooked: FishId, lost: bool) {
        let params = &self.day.fish;
        let splash_kg = params.fight_splash_share * self.fish[hooked].mass_kg();
        let sound = Sound::new(splash_kg, self.swims[line].depth_m, params);
        let factor = if lost { params.lost_fish_factor } else { 1.0 };
        if !lost {
            self.swims[line].disturbance.add_fight(sound.startle_share(0.0), self.now, params);
        }
        self.fight_startles_line(line, factor * sound.startle_share(0.0), lost);
        self.fight_startles_passing(&sound, factor);
    }

    /// Startles a share of the fish at the line of a fight; those that see a fish hooked learn a little from it.
    fn fight_startles_line(&mut self, line: LineId, share: f64, lost: bool) {
        for up in [false, true] {
            let swim = &self.swims[line];
            let count = if up { swim.up.len() } else { swim.below.len() };
            // From the last slot down: a fish that flees is replaced in its slot by the last one.
            for slot in (0..count).rev() {
                let swim = &self.swims[line];
                let index = if up { swim.up[slot] } else { swim.below[slot] };
                let fish = &mut self.fish[index];
                fish.experience.seen += u32::from(!lost);
                let trait_share = self.day.traits[fish.shoal][Trait::StartlesAtFight];
                let more = fish.fright.startles_more(self.now, &self.day.fish);
                if fish.dice.bernoulli(share * trait_share * more) {
                    self.frighten(index, 1.0);
                } else if lost {
                    self.see_fright(index, 1.0);
                }
            }
        }
    }

    /// Startles fish that roam or approach near a fight, the fewer the farther they are.
    fn fight_startles_passing(&mut self, sound: &Sound, factor: f64) {
        let at = self.rod.landed_at;
        for index in FishId::all(self.fish.len()) {
            let fish = &mut self.fish[index];
            if !matches!(fish.state, FishState::Roaming | FishState::Approaching(_)) {
                continue;
            }
            let distance_m = fish.way.position(self.now).distance_m(at);
            let share = factor * sound.startle_share(distance_m);
            let p = share * self.day.traits[fish.shoal][Trait::StartlesAtFight];
            if p <= MIN_CHANCE {
                continue;
            }
            let more = fish.fright.startles_more(self.now, &self.day.fish);
            if fish.dice.bernoulli(p * more) {
                self.frighten(index, sound.nearness(distance_m));
            }
        }
    }

    /// A fish is netted, and kept or returned.
    pub(super) fn fish_is_netted(&mut self, fish: FishId) {
        self.announce(Event::FishIsNetted { fish });
        let returned = self.scenario.kind == SessionKind::Pleasure || !self.hooked_fish_counts();
        self.book_catch(fish);
        self.rod.bring_ashore();
        if returned {
            let rest_s = self.fish[fish].dice.exponential(self.day.fish.ashore_rest_s);
            self.stay_away(fish, FishState::Resting, rest_s);
        }
        let takes_s = self.task_time_s(self.day.angler.unhook_s);
        self.start_task(Activity::Rebaiting, NextStep::Decide, takes_s);
    }

    /// Books a fish in the net as caught, if it counts.
    fn book_catch(&mut self, index: FishId) {
        if !self.hooked_fish_counts() {
            self.fish[index].state = FishState::Resting;
            return;
        }
        let fish = &mut self.fish[index];
        fish.state = FishState::Kept;
        fish.next_generation();
        let catch = Catch {
            at_s: self.now.seconds(),
            mass_g: fish.mass_g,
            shoal: fish.shoal,
            foul: self.rod.hold() == HookPosition::Outside,
        };
        let outcome = &mut self.outcome;
        outcome.weight_g += u64::from(catch.mass_g);
        outcome.by_shoal[catch.shoal].fish += 1;
        outcome.by_shoal[catch.shoal].weight_g += u64::from(catch.mass_g);
        outcome.catches.push(catch);
    }

    /// A hooked fish comes off; it flees, and so may fish near it.
    pub(super) fn fish_is_lost(&mut self, fish: FishId) {
        self.announce(Event::FishIsLost { fish });
        self.outcome.lost += 1;
        self.rod.bring_ashore();
        self.flee(fish, 1.0);
        let line = self.rod.tackle.line;
        self.swims[line].alarm.add_lost_fish(self.now, &self.day.fish);
        self.fight_startles(line, fish, true);
        self.start_task(Activity::Casting, NextStep::Decide, 0.0);
    }

    /// The session ends while a fish is being played: it counts if it is landed.
    pub(super) fn finish_fight(&mut self, fish: FishId) {
        let fight = self.fight_with(fish, self.rod.hold());
        if fight.draw_landed(&self.day.angler, &mut self.dice.fight) {
            self.announce(Event::FishIsNetted { fish });
            self.book_catch(fish);
        } else {
            self.announce(Event::FishIsLost { fish });
            self.outcome.lost += 1;
            self.fish[fish].state = FishState::Fled;
        }
        self.rod.bring_ashore();
    }
}
