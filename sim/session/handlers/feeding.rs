//! Fish that feed on the bed: they search, find the pile, the hookbait or scattered feed, swallow it and give up.

use crate::bait::Feed;
use crate::engine::{Observer, Time};
use crate::fish::{
    Fish, FishId, FishParams, FishState, Layer, Trait, bite_kg, full_mouth_kg, glance_area_m2,
    handling_time_s, hookbait_found_per_s, hookbait_met_by_place, pile_found_per_s,
    search_rate_per_s, size_fit, stands_out, suck_area_m2,
};
use crate::session::event::{Event, LeaveReason};
use crate::session::rod::HookbaitState;
use crate::session::swim::Swim;
use crate::session::world::World;
use crate::water::LineId;

/// Food on the bed below which nothing is left [kg].
const ZERO_KG: f64 = 1e-9;

/// Rates at which a searching fish finds what lies at its line [1/s].
#[derive(Clone, Copy, Debug, Default)]
struct FindRates {
    pile: f64,
    hookbait: f64,
    scatter: f64,
}

impl FindRates {
    fn total(&self) -> f64 {
        self.pile + self.hookbait + self.scatter
    }
}

/// Mouthfuls that the food of the pile is worth to a fish, by its mass.
fn mouthfuls_in_pile(swim: &Swim, fish: &Fish, params: &FishParams) -> f64 {
    let pile = &swim.pile;
    let fit = size_fit(pile.feed.diameter_m, fish.gape_m, params);
    fit * pile.food_kg / full_mouth_kg(pile.feed.mouthful_kg, fish.length_m)
}

/// Sucks that the pile holds for a fish: where it was laid thick, one suck takes more.
fn sucks_in_pile(swim: &Swim, fish: &Fish, params: &FishParams) -> f64 {
    let pile = &swim.pile;
    if pile.food_kg <= ZERO_KG {
        return 0.0;
    }
    pile.food_kg / suck_kg(swim, fish, params)
}

/// What one suck takes from the pile [kg].
fn suck_kg(swim: &Swim, fish: &Fish, params: &FishParams) -> f64 {
    let pile = &swim.pile;
    let full_kg = full_mouth_kg(pile.feed.mouthful_kg, fish.length_m);
    let area_m2 = suck_area_m2(fish.gape_m, params);
    bite_kg(pile.laid_kg_m2, area_m2, pile.feed.item_kg, full_kg)
}

/// What one find in the scattered feed brings [kg].
fn scatter_find_kg(swim: &Swim, fish: &Fish, params: &FishParams) -> f64 {
    let scatter = &swim.scatter;
    let full_kg = full_mouth_kg(scatter.feed.mouthful_kg, fish.length_m);
    bite_kg(scatter.density_kg_m2(), glance_area_m2(params), scatter.feed.item_kg, full_kg)
}

impl<W: Observer<Event>> World<'_, W> {
    /// Where the hookbait is for a fish at a line; `None` if it cannot take it or avoids hookbaits.
    fn hook_for(&self, fish: FishId, line: LineId) -> Option<HookbaitState> {
        let available = self.rod.hookbait_available() && self.rod.tackle.line == line;
        (available && self.fish[fish].avoids_hookbaits_until <= self.now).then_some(self.rod.hook)
    }

    /// Rates at which a fish that searches a line finds the pile, a hookbait off it, and scattered feed.
    fn find_rates(&self, index: FishId, line: LineId) -> FindRates {
        let (swim, params, fish) = (&self.swims[line], &self.day.fish, &self.fish[index]);
        let area_m2 = swim.scatter.area_m2;
        let hook = self.hook_for(index, line);
        let overlap = swim.pile_overlap;
        let mouthfuls = mouthfuls_in_pile(swim, fish, params);
        let hook_on_pile = hook == Some(HookbaitState::OnPile);
        let pile = overlap
            * pile_found_per_s(mouthfuls, swim.pile_radius_m, hook_on_pile, area_m2, params);
        let hookbait = if hook == Some(HookbaitState::InScatter) {
            overlap * hookbait_found_per_s(area_m2, params)
        } else {
            0.0
        };
        let scatter = if swim.scatter.food_kg > ZERO_KG {
            let fit = size_fit(swim.scatter.feed.diameter_m, fish.gape_m, params);
            let finds = fit * swim.scatter.food_kg / scatter_find_kg(swim, fish, params);
            search_rate_per_s(finds / area_m2, params)
        } else {
            0.0
        };
        FindRates { pile, hookbait, scatter }
    }

    /// Risk of a line for a fish: the place itself, what happened there, and the frights that it remembers.
    pub(super) fn risk(&self, index: FishId, line: LineId) -> f64 {
        let (swim, params, fish) = (&self.swims[line], &self.day.fish, &self.fish[index]);
        let startles = self.day.traits[fish.shoal][Trait::StartlesAtFight];
        swim.risk(fish.habitual_cover_m, self.now, self.day)
            + swim.disturbance.risk(startles, self.now, params)
            + fish.fright.risk_at(swim.at, self.now, params)
    }

    /// A feeding fish searches, once it has swallowed: it finds something, or gives up first.
    ///
    /// A fish that has found the pile feeds on it until nothing is left there. If other fish eat in the meantime, the
    /// draw is thinned when it comes due. New feed, a lost hookbait and a levelled pile make all fish at the line draw
    /// again. A fish that stops avoiding hookbaits does so from its next draw on.
    pub(super) fn search(&mut self, index: FishId) {
        let FishState::Feeding(line, Layer::Bottom) = self.fish[index].state else { return };
        let risk = self.risk(index, line);
        let scent = self.swims[line].scent(self.now, self.day);
        let fish = &self.fish[index];
        let starts = fish.handles_until.max(self.now);
        let gives_up = fish.forage.gives_up_at(risk, scent, &self.day.fish).max(starts);
        let finds = if fish.on_pile {
            starts
        } else {
            let rate_per_s = self.find_rates(index, line).total();
            let fish = &mut self.fish[index];
            fish.search_rate_per_s = rate_per_s;
            if rate_per_s > 0.0 {
                starts.after(fish.dice.exponential(1.0) / rate_per_s)
            } else {
                Time::NEVER
            }
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

    /// New feed arrived: resets the patience of every fish on the bed there, as far as the feed is worth it, and restarts
    /// its search.
    pub(super) fn encourage_search(&mut self, line: LineId, food_kg: f64, feed: Feed) {
        for slot in 0..self.swims[line].below.len() {
            let index = self.swims[line].below[slot];
            self.encourage_fish(index, food_kg, feed);
            self.search(index);
        }
    }

    /// New feed arrived near a fish: it expects more again.
    pub(super) fn encourage_fish(&mut self, index: FishId, food_kg: f64, feed: Feed) {
        let fish = &mut self.fish[index];
        let fit = size_fit(feed.diameter_m, fish.gape_m, &self.day.fish);
        let mouthfuls = fit * food_kg / full_mouth_kg(feed.mouthful_kg, fish.length_m);
        fish.forage.encourage(self.now, mouthfuls, &self.day.fish);
    }

    /// A fish finds something: the pile, the hookbait, or scattered feed.
    pub(super) fn fish_finds(&mut self, index: FishId, generation: u32) {
        if !self.is_current(index, generation) {
            return;
        }
        let FishState::Feeding(line, Layer::Bottom) = self.fish[index].state else { return };
        self.lose_bait(line);
        if self.fish[index].on_pile {
            self.suck_at_pile(index, line, generation);
            return;
        }
        let rates = self.find_rates(index, line);
        let fish = &mut self.fish[index];
        let drawn = fish.dice.uniform() * fish.search_rate_per_s;
        if drawn >= rates.total() {
            self.search(index);
        } else if drawn < rates.pile {
            self.fish[index].on_pile = true;
            self.suck_at_pile(index, line, generation);
        } else if drawn < rates.pile + rates.hookbait {
            self.announce(Event::FishFinds { fish: index, mind: generation });
            self.meet_hookbait(index);
        } else {
            self.announce(Event::FishFinds { fish: index, mind: generation });
            let (swim, fish) = (&mut self.swims[line], &self.fish[index]);
            let amount_kg = scatter_find_kg(swim, fish, &self.day.fish);
            let feed = swim.scatter.feed;
            let eaten_kg = swim.scatter.take(amount_kg);
            self.eat(index, line, eaten_kg, feed);
        }
    }

    /// A fish on the pile takes its next suck there: the hookbait is one target among those that the pile is worth.
    fn suck_at_pile(&mut self, index: FishId, line: LineId, generation: u32) {
        let params = &self.day.fish;
        let sucks = sucks_in_pile(&self.swims[line], &self.fish[index], params);
        let hook_here = self.hook_for(index, line) == Some(HookbaitState::OnPile);
        if sucks <= 0.0 && !hook_here {
            self.fish[index].on_pile = false;
            self.search(index);
            return;
        }
        self.announce(Event::FishFinds { fish: index, mind: generation });
        if hook_here {
            let item_m = self.swims[line].pile.feed.diameter_m;
            let diameter_m = self.day.hookbaits[self.rod.tackle.hookbait].diameter_m;
            let notice = params.hookbait_notice * stands_out(diameter_m, item_m, params);
            let by_suck = notice / (notice + sucks);
            let by_place = hookbait_met_by_place(
                notice,
                suck_area_m2(self.fish[index].gape_m, params),
                self.swims[line].pile.area_m2,
            );
            let p = by_suck + params.pile_by_area * (by_place - by_suck);
            if self.fish[index].dice.bernoulli(p) {
                self.meet_hookbait(index);
                return;
            }
            self.outcome.swim.mouthfuls_beside += 1;
        }
        let (swim, fish) = (&mut self.swims[line], &self.fish[index]);
        let amount_kg = suck_kg(swim, fish, &self.day.fish);
        let feed = swim.pile.feed;
        let eaten_kg = swim.pile.take(amount_kg);
        self.eat(index, line, eaten_kg, feed);
    }

    /// A fish eats what it has taken from the bed, and swallows it.
    fn eat(&mut self, index: FishId, line: LineId, eaten_kg: f64, feed: Feed) {
        let full_kg = full_mouth_kg(feed.mouthful_kg, self.fish[index].length_m);
        let fit = size_fit(feed.diameter_m, self.fish[index].gape_m, &self.day.fish);
        let swim = &mut self.swims[line];
        let left_kg = swim.on_bed_kg();
        if eaten_kg > 0.0 {
            swim.attractant.lose_share(eaten_kg / (left_kg + eaten_kg));
        }
        swim.add_mouthfuls_taken(eaten_kg / full_kg, self.now, self.day);
        self.outcome.bait.eaten_kg += eaten_kg;
        self.announce(Event::FishEats { fish: index, line });
        let fish = &mut self.fish[index];
        let filled = eaten_kg / full_kg;
        fish.forage.add_mouthfuls(self.now, filled, &self.day.fish);
        fish.appetite.digest_until(self.now, self.gut_rate_per_s);
        fish.appetite.eat(eaten_kg);
        self.swallow(index, line, filled, fit);
    }

    /// A fish swallows a mouthful of which a share `filled` is full and searches on, or is full and leaves.
    ///
    /// Items that fit a mouth less well take longer, by 1/`fit`.
    pub(super) fn swallow(&mut self, index: FishId, line: LineId, filled: f64, fit: f64) {
        let hunger = self.fish[index].appetite.hunger();
        if hunger < self.day.fish.full_below {
            self.leave_line(index, LeaveReason::Full);
            self.start_next_leg(index);
            return;
        }
        let feeding = self.swims[line].below.len();
        let cube_root_kg = self.fish[index].cube_root_kg;
        let takes_s = handling_time_s(cube_root_kg, filled, hunger, feeding, &self.day.fish);
        self.fish[index].handles_until = self.now.after(takes_s / fit);
        self.search(index);
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
