//! Fish that feed on the bed: they search, find the pile, the hookbait or scattered feed, swallow it and give up.

use crate::engine::{Time, Watch};
use crate::fish::{
    Fish, FishParams, Layer, State, bite_kg, full_mouth_kg, glance_area_m2, handling_s,
    hookbait_found_per_s, pile_found_per_s, search_rate_per_s, size_fit, suck_area_m2,
};
use crate::session::event::{Event, Gone};
use crate::session::rod::Hook;
use crate::session::swim::Swim;
use crate::session::world::World;

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

/// Sucks that the food of the pile is worth to a fish: where it was laid thick, one suck takes more.
fn sucks_in_pile(swim: &Swim, fish: &Fish, params: &FishParams) -> f64 {
    let pile = &swim.pile;
    if pile.food_kg <= ZERO_KG {
        return 0.0;
    }
    let fit = size_fit(pile.feed.diameter_m, fish.gape_m, params);
    fit * pile.food_kg / suck_kg(swim, fish, params)
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

impl<W: Watch<Event>> World<'_, W> {
    /// Where the hookbait is for a fish at a line; `None` if it cannot take it or avoids hookbaits.
    fn hook_for(&self, fish: usize, line: usize) -> Option<Hook> {
        let available = self.rod.hookbait_available() && self.rod.line == line;
        (available && self.fish[fish].refuses_until <= self.now).then_some(self.rod.hook)
    }

    /// Rates at which a fish that searches a line finds the pile, a hookbait off it, and scattered feed.
    ///
    /// Fish search about the middle of the line: a pile or a hookbait that lies off it is found more slowly.
    fn find_rates(&self, index: usize, line: usize) -> FindRates {
        let (swim, params, fish) = (&self.swims[line], &self.day.fish, &self.fish[index]);
        let area_m2 = swim.scatter.area_m2;
        let hook = self.hook_for(index, line);
        let off_m2 = swim.pile_at.squared_distance_m2(swim.at);
        let overlap = (-off_m2 * std::f64::consts::PI / (2.0 * area_m2)).exp();
        let sucks = sucks_in_pile(swim, fish, params);
        let pile_radius_m = (swim.pile.area_m2 / std::f64::consts::PI).sqrt();
        let hook_on_pile = hook == Some(Hook::OnPile);
        let pile = overlap * pile_found_per_s(sucks, pile_radius_m, hook_on_pile, area_m2, params);
        let hookbait = if hook == Some(Hook::InScatter) {
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

    /// Risk of a line for a fish: the place itself, and the frights that it remembers.
    pub(super) fn risk(&self, index: usize, line: usize) -> f64 {
        let (swim, params, fish) = (&self.swims[line], &self.day.fish, &self.fish[index]);
        swim.risk(fish.habitual_cover_m, self.now, self.day)
            + fish.fright.risk_at(swim.at, self.now, params)
    }

    /// A feeding fish searches, once it has swallowed: it finds something, or gives up first.
    ///
    /// A fish that has found the pile feeds on it until nothing is left there. If other fish eat in the meantime, the
    /// draw is thinned when it comes due. New feed, a lost hookbait and a levelled pile make all fish at the line draw
    /// again. A fish that stops avoiding hookbaits does so from its next draw on.
    pub(super) fn search(&mut self, index: usize) {
        let State::Feeding(line, Layer::Bottom) = self.fish[index].state else { return };
        let risk = self.risk(index, line);
        let rates = self.find_rates(index, line);
        let fish = &mut self.fish[index];
        let starts = fish.swallows_until.max(self.now);
        let gives_up = fish.forage.gives_up_at(risk, &self.day.fish).max(starts);
        fish.searching_per_s = rates.total();
        let finds = if fish.on_pile {
            starts
        } else if fish.searching_per_s > 0.0 {
            starts.after(fish.dice.exponential(1.0) / fish.searching_per_s)
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
    pub(super) fn restart_search(&mut self, line: usize) {
        for slot in 0..self.swims[line].below.len() {
            self.search(self.swims[line].below[slot]);
        }
    }

    /// New feed arrived: resets the patience of every fish on the bed there and restarts its search.
    pub(super) fn encourage_search(&mut self, line: usize) {
        for slot in 0..self.swims[line].below.len() {
            let fish = self.swims[line].below[slot];
            self.fish[fish].forage.encouraged(self.now, &self.day.fish);
            self.search(fish);
        }
    }

    /// A fish finds something: the pile, the hookbait, or scattered feed.
    pub(super) fn fish_finds(&mut self, index: usize, generation: u32) {
        if !self.is_current(index, generation) {
            return;
        }
        let State::Feeding(line, Layer::Bottom) = self.fish[index].state else { return };
        self.lose_bait(line);
        if self.fish[index].on_pile {
            self.suck_at_pile(index, line, generation);
            return;
        }
        let rates = self.find_rates(index, line);
        let fish = &mut self.fish[index];
        let drawn = fish.dice.uniform() * fish.searching_per_s;
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
            let full_kg = full_mouth_kg(swim.scatter.feed.mouthful_kg, fish.length_m);
            let eaten_kg = swim.scatter.take(amount_kg);
            self.eat(index, line, eaten_kg, full_kg);
        }
    }

    /// A fish on the pile takes its next suck there: the hookbait is one target among those that the pile is worth.
    fn suck_at_pile(&mut self, index: usize, line: usize, generation: u32) {
        let params = &self.day.fish;
        let sucks = sucks_in_pile(&self.swims[line], &self.fish[index], params);
        let hook_here = self.hook_for(index, line) == Some(Hook::OnPile);
        if sucks <= 0.0 && !hook_here {
            self.fish[index].on_pile = false;
            self.search(index);
            return;
        }
        self.announce(Event::FishFinds { fish: index, mind: generation });
        if hook_here {
            let p = params.hookbait_notice / (params.hookbait_notice + sucks);
            if self.fish[index].dice.chance(p) {
                self.meet_hookbait(index);
                return;
            }
            self.outcome.swim.mouthfuls_beside += 1;
        }
        let (swim, fish) = (&mut self.swims[line], &self.fish[index]);
        let full_kg = full_mouth_kg(swim.pile.feed.mouthful_kg, fish.length_m);
        let amount_kg = suck_kg(swim, fish, &self.day.fish);
        let eaten_kg = swim.pile.take(amount_kg);
        self.eat(index, line, eaten_kg, full_kg);
    }

    /// A fish eats what it has taken from the bed, and swallows it.
    fn eat(&mut self, index: usize, line: usize, eaten_kg: f64, full_kg: f64) {
        let swim = &mut self.swims[line];
        let left_kg = swim.on_bed_kg();
        if eaten_kg > 0.0 {
            swim.attractant.lose_share(eaten_kg / (left_kg + eaten_kg));
        }
        swim.add_mouthfuls_taken(1.0, self.now, self.day);
        self.outcome.bait.eaten_kg += eaten_kg;
        self.announce(Event::FishEats { fish: index, line });
        let fish = &mut self.fish[index];
        let filled = eaten_kg / full_kg;
        fish.forage.found(self.now, filled, &self.day.fish);
        fish.appetite.digest_until(self.now, self.gut_rate_per_s);
        fish.appetite.eat(eaten_kg);
        self.swallow(index, line, filled);
    }

    /// A fish swallows a mouthful of which a share `filled` is full and searches on, or is full and leaves.
    pub(super) fn swallow(&mut self, index: usize, line: usize, filled: f64) {
        let hunger = self.fish[index].appetite.hunger();
        if hunger < self.day.fish.full_below {
            self.leave_line(index, Gone::Full);
            self.start_next_leg(index);
            return;
        }
        let feeding = self.swims[line].below.len();
        let mass_kg = self.fish[index].mass_kg();
        let takes_s = handling_s(mass_kg, filled, hunger, feeding, &self.day.fish);
        self.fish[index].swallows_until = self.now.after(takes_s);
        self.search(index);
    }

    /// A fish gives up a line; it avoids that line for a while.
    pub(super) fn fish_gives_up(&mut self, index: usize, generation: u32) {
        if !self.is_current(index, generation) {
            return;
        }
        self.announce(Event::FishGivesUp { fish: index, mind: generation });
        self.outcome.swim.gave_up += 1;
        if let State::Feeding(line, _) = self.fish[index].state {
            let fish = &mut self.fish[index];
            let avoids_s = fish.dice.exponential(self.day.fish.disappointment_s);
            fish.forage.learns(self.now, &self.day.fish);
            fish.gave_up = Some((line, self.now.after(avoids_s)));
        }
        self.leave_line(index, Gone::GaveUp);
        self.start_next_leg(index);
    }
}
