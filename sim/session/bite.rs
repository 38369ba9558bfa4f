//! Where fish and hook meet: the one file that knows both.

use super::event::{Event, Gone};
use super::outcome::Catch;
use super::rod::{Activity, HookIs, RigAt, Step};
use super::world::{World, rank};
use crate::angler::{Hold, fight_s, lands};
use crate::engine::{Agenda, Watch};
use crate::fish::{Sound, State, take_chance};
use crate::scenario::SessionKind;

/// How loud a fight is, as the mass of a splash for which the book states its distances [kg].
const FIGHT_SPLASH_KG: f64 = 0.06;

impl<W: Watch<Event>> World<'_, W> {
    /// A fish has the hookbait before it: it takes it or refuses.
    pub(super) fn meets_hookbait(&mut self, fish: usize, agenda: &mut Agenda<Event>) {
        self.outcome.swim.hookbait_met += 1;
        let hookbait = &self.scenario.hookbaits[self.rod.hookbait];
        let one = &mut self.fish[fish];
        let keenness = one.boldness * hookbait.tempting;
        let p = take_chance(one.mass_kg(), keenness, one.experience, &self.day.fish);
        if one.dice.chance(p) {
            self.fish_takes(fish, agenda);
        } else {
            self.fish_refuses(fish, agenda);
        }
    }

    /// A fish refuses the hookbait: it leaves hookbaits alone for a while, and may have moved this one.
    fn fish_refuses(&mut self, fish: usize, agenda: &mut Agenda<Event>) {
        let cast = self.rod.cast;
        self.show(Event::FishRefuses { fish, cast });
        self.outcome.swim.refused += 1;
        let displaced = self.scenario.hookbaits[self.rod.hookbait].displaced_share;
        let one = &mut self.fish[fish];
        let shuns_s = one.dice.exponential(self.day.fish.refusal_memory_s);
        one.refuses_until = self.now.after(shuns_s);
        if one.dice.chance(displaced) {
            self.hookbait_gone(cast);
        }
        if let State::Feeding(line, _) = self.fish[fish].state {
            self.swallow(fish, line, agenda);
        }
    }

    /// A fish takes the hookbait: a bite, and a fish on or a missed one.
    pub(super) fn fish_takes(&mut self, fish: usize, agenda: &mut Agenda<Event>) {
        self.show(Event::FishTakes { fish, cast: self.rod.cast });
        self.outcome.bites += 1;
        let params = &self.day.angler;
        let busy = self.hands.activity == Activity::Feeding;
        let hooks = params.hooks_share * if busy { params.hooks_share_feeding } else { 1.0 };
        if busy {
            // The handful in hand is dropped back and thrown when there is time.
            if let Step::Throw { feed } = self.hands.step {
                self.hands.due.retain(|&due| due != feed);
                self.hands.due.insert(0, feed);
            }
        }
        if self.fight_dice.chance(hooks) {
            self.fish_is_hooked(fish, Hold::Mouth, agenda);
        } else {
            self.flee(fish, agenda);
            self.wind_in(agenda);
        }
    }

    pub(super) fn fish_is_hooked(&mut self, fish: usize, hold: Hold, agenda: &mut Agenda<Event>) {
        if hold == Hold::Outside {
            self.show(Event::FishIsFoulHooked { fish });
            self.outcome.foul_hooked += 1;
        }
        self.show(Event::FishIsHooked { fish });
        self.fish_leaves(fish, Gone::Hooked);
        let line = self.rod.line;
        self.rig_leaves_bed(RigAt::Fish(fish, hold), agenda);
        self.fish[fish].state = State::Hooked;
        self.fish[fish].experience.hooked += 1;
        let mass_kg = self.fish[fish].mass_kg();
        let takes_s = fight_s(mass_kg, hold, &self.day.angler, &mut self.fight_dice);
        let landed = lands(mass_kg, hold, &self.day.angler, &mut self.fight_dice);
        self.take_up(Activity::Playing, Step::Decide, f64::INFINITY, agenda);
        let event = if landed { Event::FishIsNetted { fish } } else { Event::FishIsLost { fish } };
        agenda.enter(self.now.after(takes_s), rank::HANDS, event);
        self.fight_startles(line, true, agenda);
    }

    /// Fish close to a fight may flee, and learn a little from what they see.
    fn fight_startles(&mut self, line: usize, teaches: bool, agenda: &mut Agenda<Event>) {
        let depth_m = self.swims[line].depth_m;
        let share = Sound::of(FIGHT_SPLASH_KG, depth_m, &self.day.fish).startles(0.0);
        for up in [false, true] {
            let here = if up { self.swims[line].up.len() } else { self.swims[line].below.len() };
            for slot in (0..here).rev() {
                let swim = &self.swims[line];
                let fish = if up { swim.up[slot] } else { swim.below[slot] };
                let one = &mut self.fish[fish];
                one.experience.seen += u32::from(teaches);
                let p = share * self.day.traits[one.shoal].startles_at_fight;
                if one.dice.chance(p) {
                    self.take_fright(fish, agenda);
                }
            }
        }
    }

    /// A fish is netted, weighed in the mind, and kept or returned.
    pub(super) fn fish_is_netted(&mut self, fish: usize, agenda: &mut Agenda<Event>) {
        self.show(Event::FishIsNetted { fish });
        let goes_back = self.scenario.kind == SessionKind::Pleasure || !self.fish_on_counts();
        self.landed(fish);
        self.rod.rig = RigAt::Ashore;
        if goes_back {
            let rests_s = self.fish[fish].dice.exponential(self.day.fish.ashore_rest_s);
            self.stay_away(fish, State::Resting, rests_s, agenda);
        }
        let takes_s = self.hand_time_s(self.day.angler.unhook_s);
        self.take_up(Activity::Rebaiting, Step::Decide, takes_s, agenda);
    }

    /// Whether the fish that is on will count, by the rules of the water.
    pub(super) fn fish_on_counts(&self) -> bool {
        self.rod.hold() == Hold::Mouth || self.scenario.foul_hooked_counts
    }

    /// A fish is in the net; one that does not count goes back.
    fn landed(&mut self, fish: usize) {
        if !self.fish_on_counts() {
            self.fish[fish].state = State::Resting;
            return;
        }
        let one = &mut self.fish[fish];
        one.state = State::Kept;
        one.mind += 1;
        let catch = Catch {
            at_s: self.now.seconds(),
            mass_g: one.mass_g,
            shoal: one.shoal,
            foul: self.rod.hold() == Hold::Outside,
        };
        let outcome = &mut self.outcome;
        outcome.weight_g += u64::from(catch.mass_g);
        outcome.by_shoal[catch.shoal].fish += 1;
        outcome.by_shoal[catch.shoal].weight_g += u64::from(catch.mass_g);
        outcome.catches.push(catch);
    }

    /// A hooked fish comes off; it flees, and so may those near it.
    pub(super) fn fish_is_lost(&mut self, fish: usize, agenda: &mut Agenda<Event>) {
        self.show(Event::FishIsLost { fish });
        self.outcome.lost += 1;
        self.rod.rig = RigAt::Ashore;
        let away_s = self.fish[fish].dice.exponential(self.day.fish.refuge_s);
        self.stay_away(fish, State::Fled, away_s, agenda);
        self.fight_startles(self.rod.line, false, agenda);
        self.take_up(Activity::Casting, Step::Decide, 0.0, agenda);
    }

    /// The whistle goes with a fish on: it counts if it is landed.
    pub(super) fn last_fish(&mut self, fish: usize) {
        let mass_kg = self.fish[fish].mass_kg();
        if lands(mass_kg, self.rod.hold(), &self.day.angler, &mut self.fight_dice) {
            self.show(Event::FishIsNetted { fish });
            self.landed(fish);
        } else {
            self.show(Event::FishIsLost { fish });
            self.outcome.lost += 1;
            self.fish[fish].state = State::Fled;
        }
        self.rod.rig = RigAt::Ashore;
        self.rod.hook = HookIs::Bare;
    }
}
