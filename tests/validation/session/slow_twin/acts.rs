//! What the fish of the twin do in one step.

use sim::bait::Feed;
use sim::engine::Time;
use sim::fish::{
    Experience, bite_kg, company_chance, full_mouth_kg, glance_area_m2, handling_time_s,
    pile_found_per_s, search_rate_per_s, size_fit, stands_out, suck_area_m2, take_chance,
};
use sim::water::Point;

use super::rod_and_bait::{Doing, FishTwin, learn};

impl FishTwin<'_> {
    pub(super) fn hunger(&self, index: usize) -> f64 {
        let fish = &self.fish[index];
        (1.0 - fish.gut_kg / fish.own.appetite.capacity_kg).clamp(0.0, 1.0)
    }

    pub(super) fn motivation(&self, index: usize) -> f64 {
        let own = &self.fish[index].own;
        let activity = self.day.motivation(own.shoal, Time::from_seconds(self.now_s));
        self.hunger(index) * activity * own.responsiveness
    }

    pub(super) fn move_fish(&mut self, index: usize) {
        let (params, now_s) = (&self.day.fish, self.now_s);
        let length_m = self.fish[index].own.length_m;
        let doing = self.fish[index].doing;
        match doing {
            Doing::Leg => {
                let arrived = self.swim(index, params.cruise_lengths_s * length_m);
                let near_m = params.passing_m * self.day.sight;
                self.fish[index].passed |= self.fish[index].at.distance_m(self.line()) <= near_m;
                if arrived {
                    let pause_s = self.dice.exponential(params.pause_s).max(1.0);
                    self.fish[index].until_s = now_s + pause_s;
                    self.fish[index].doing = Doing::Pause;
                }
            }
            Doing::Pause if self.fish[index].until_s <= now_s => self.look_round(index),
            Doing::Approach if self.swim(index, params.approach_lengths_s * length_m) => {
                self.reach_line(index);
            }
            Doing::Feed if self.fish[index].until_s <= now_s => self.search(index),
            Doing::Flight if self.swim(index, params.flight_lengths_s * length_m) => {
                self.fish[index].until_s = now_s + self.dice.exponential(params.refuge_s);
                self.fish[index].doing = Doing::Refuge;
            }
            Doing::Refuge if self.fish[index].until_s <= now_s => self.set_out(index),
            _ => {}
        }
    }

    /// Swims one step; returns whether it is there.
    fn swim(&mut self, index: usize, speed_m_s: f64) -> bool {
        let fish = &mut self.fish[index];
        let (left_m, step_m) = (fish.at.distance_m(fish.to), speed_m_s * self.step_s);
        fish.at =
            if left_m <= step_m { fish.to } else { fish.at.towards(fish.to, step_m / left_m) };
        left_m <= step_m
    }

    /// A place in the home range, drawn by trying places in the box round it.
    fn place_at_home(&mut self) -> Point {
        let shoal = &self.water.shoals[0];
        let home = self.day.home(0, Time::ZERO);
        loop {
            let [u, v] = [0, 1].map(|_| self.dice.uniform_between(-1.0, 1.0));
            if u * u + v * v < 1.0 {
                let x_m = home.x_m + u * shoal.home_half_length_m;
                let y_m = home.y_m + v * shoal.home_half_width_m;
                return self.water.chart.clamp(Point { x_m, y_m });
            }
        }
    }

    /// Sets out on the next leg.
    pub(super) fn set_out(&mut self, index: usize) {
        let params = &self.day.fish;
        let fish = &self.fish[index];
        let returns = params.return_share * (1.0 - 1.0 / fish.expected.max(1.0));
        let goal = if fish.has_fed && self.dice.bernoulli(returns) {
            let (line, spread_m) = (self.line(), params.sight_m);
            let (x_m, y_m) = (spread_m * self.dice.normal(), spread_m * self.dice.normal());
            self.water.chart.clamp(Point { x_m: line.x_m + x_m, y_m: line.y_m + y_m })
        } else {
            self.place_at_home()
        };
        let most_m = self.dice.exponential(params.leg_m);
        let fish = &mut self.fish[index];
        let far_m = fish.at.distance_m(goal);
        fish.from = fish.at;
        fish.to = if far_m <= most_m { goal } else { fish.at.towards(goal, most_m / far_m) };
        (fish.passed, fish.on_pile) = (false, false);
        fish.doing = Doing::Leg;
    }

    fn look_round(&mut self, index: usize) {
        let (params, line) = (&self.day.fish, self.line());
        let fish = &self.fish[index];
        let sees = fish.at.distance_m(line) <= params.sight_m * self.day.sight;
        let bait = self.hook_until_s.is_some() || self.pile_kg > 0.0;
        let chance = if fish.passed && bait {
            1.0
        } else if sees {
            company_chance(self.seen, params)
        } else {
            0.0
        };
        let avoids = self.now_s < fish.avoids_line_until_s;
        let goes = if avoids { 0.0 } else { (chance * self.motivation(index)).min(1.0) };
        if self.dice.bernoulli(goes) { self.approach(index, line) } else { self.set_out(index) }
    }

    pub(super) fn approach(&mut self, index: usize, goal: Point) {
        let fish = &mut self.fish[index];
        (fish.from, fish.to, fish.doing) = (fish.at, goal, Doing::Approach);
    }

    /// Comes to where it believed the line to be, unless it lost the trail.
    fn reach_line(&mut self, index: usize) {
        let (params, line, now_s) = (&self.day.fish, self.line(), self.now_s);
        let fish = &self.fish[index];
        let keeps = (-params.trail_loss_per_m * fish.from.distance_m(fish.to)).exp();
        if !self.dice.bernoulli(keeps) {
            self.set_out(index);
            return;
        }
        let found_m = (self.scatter_m2 / std::f64::consts::PI).sqrt() + params.passing_m;
        let fish = &mut self.fish[index];
        if fish.at.distance_m(line) > found_m {
            fish.passed = false;
            self.look_round(index);
            return;
        }
        if !fish.has_fed {
            fish.has_fed = true;
            fish.expected = params.arrival_optimism;
        }
        fish.intake_per_s = params.arrival_optimism * params.elsewhere_per_s;
        (fish.signal_s, fish.found, fish.on_pile) = (now_s, 0.0, false);
        (fish.until_s, fish.doing) = (now_s, Doing::Feed);
        fish.seeks_hook = fish.avoids_hook_until_s <= now_s;
        self.outcome.arrived += 1.0;
    }

    /// A fish at the line that has swallowed gives up, takes the next suck of the pile, or searches on.
    fn search(&mut self, index: usize) {
        let (day, now_s) = (self.day, self.now_s);
        let (params, fish) = (&day.fish, &self.fish[index]);
        if fish.intake_per_s <= params.elsewhere_per_s {
            self.give_up(index);
            return;
        }
        if fish.on_pile {
            self.suck(index);
            return;
        }
        let full_kg = full_mouth_kg(self.feed.mouthful_kg, fish.own.length_m);
        let fit = size_fit(self.feed.diameter_m, fish.own.gape_m, params);
        let mouthfuls = fit * self.pile_kg / full_kg;
        let hook = self.hook_until_s.is_some() && fish.seeks_hook;
        let pile = pile_found_per_s(mouthfuls, self.pile_radius_m, hook, self.scatter_m2, params);
        let thickness = self.scatter_kg / self.scatter_m2;
        let find_kg = bite_kg(thickness, glance_area_m2(params), self.feed.item_kg, full_kg);
        let scatter = if self.scatter_kg > 1e-9 {
            search_rate_per_s(fit * self.scatter_kg / find_kg / self.scatter_m2, params)
        } else {
            0.0
        };
        if !self.happens(pile + scatter) {
            return;
        }
        if self.dice.uniform() * (pile + scatter) < pile {
            self.fish[index].on_pile = true;
            self.suck(index);
        } else {
            let eaten_kg = taken_kg(&mut self.scatter_kg, find_kg, self.feed);
            self.eat(index, eaten_kg, full_kg);
        }
        self.fish[index].seeks_hook = self.fish[index].avoids_hook_until_s <= now_s;
    }

    fn suck(&mut self, index: usize) {
        let (day, fish) = (self.day, &self.fish[index]);
        let params = &day.fish;
        let full_kg = full_mouth_kg(self.feed.mouthful_kg, fish.own.length_m);
        let area_m2 = suck_area_m2(fish.own.gape_m, params);
        let suck_kg = bite_kg(self.laid_kg_m2, area_m2, self.feed.item_kg, full_kg);
        let sucks = if self.pile_kg > 1e-9 { self.pile_kg / suck_kg } else { 0.0 };
        let hook = self.hook_until_s.is_some() && fish.avoids_hook_until_s <= self.now_s;
        if sucks <= 0.0 && !hook {
            self.fish[index].on_pile = false;
            return;
        }
        let hook_m = day.hookbaits[self.water.plans[0].phases[0].tackle.hookbait].diameter_m;
        let notice = params.hookbait_notice * stands_out(hook_m, self.feed.diameter_m, params);
        if hook && self.dice.bernoulli(notice / (notice + sucks)) {
            self.meet_hookbait(index);
            return;
        }
        let eaten_kg = taken_kg(&mut self.pile_kg, suck_kg, self.feed);
        self.eat(index, eaten_kg, full_kg);
    }

    fn eat(&mut self, index: usize, eaten_kg: f64, full_kg: f64) {
        let fish = &mut self.fish[index];
        let filled = eaten_kg / full_kg;
        fish.intake_per_s += filled / self.day.fish.memory_s;
        fish.found += filled;
        fish.gut_kg += eaten_kg;
        self.seen += filled;
        self.outcome.eaten_kg += eaten_kg;
        let fit = size_fit(self.feed.diameter_m, fish.own.gape_m, &self.day.fish);
        self.swallow(index, filled, fit);
    }

    fn swallow(&mut self, index: usize, filled: f64, fit: f64) {
        let (params, hunger) = (&self.day.fish, self.hunger(index));
        if hunger < params.full_below {
            self.set_out(index);
            return;
        }
        let company = self.fish.iter().filter(|fish| fish.doing == Doing::Feed).count();
        let fish = &mut self.fish[index];
        let takes_s = handling_time_s(fish.own.cube_root_kg, filled, hunger, company, params);
        fish.until_s = self.now_s + takes_s / fit;
    }

    fn meet_hookbait(&mut self, index: usize) {
        let (params, own) = (&self.day.fish, &self.fish[index].own);
        let hookbait = &self.day.hookbaits[self.water.plans[0].phases[0].tackle.hookbait];
        let fits = size_fit(hookbait.diameter_m, own.gape_m, params);
        let ready = own.boldness * hookbait.temptation * fits;
        let chance = take_chance(own.mass_kg(), ready, Experience::default(), params);
        self.outcome.met += 1.0;
        if self.dice.bernoulli(chance) {
            self.outcome.bites += 1.0;
            self.flee(index);
            self.wind_in();
            return;
        }
        let avoids_s = self.dice.exponential(params.refusal_memory_s);
        self.fish[index].avoids_hook_until_s = self.now_s + avoids_s;
        if self.dice.bernoulli(hookbait.displaced_share) {
            self.hook_until_s = None;
        }
        self.swallow(index, 0.0, 1.0);
    }

    /// Flees to a place away from here.
    fn flee(&mut self, index: usize) {
        let from = self.fish[index].at;
        let mut refuge = from;
        for _ in 0..8 {
            refuge = self.place_at_home();
            if refuge.distance_m(from) > self.day.fish.startle_radius_m {
                break;
            }
        }
        let fish = &mut self.fish[index];
        (fish.to, fish.doing, fish.on_pile) = (refuge, Doing::Flight, false);
    }

    fn give_up(&mut self, index: usize) {
        let avoids_s = self.dice.exponential(self.day.fish.disappointment_s);
        let fish = &mut self.fish[index];
        learn(fish, self.now_s, self.day);
        fish.avoids_line_until_s = self.now_s + avoids_s;
        self.set_out(index);
    }
}

/// Takes an amount, or what is left of it; a last part of less than one item goes with it [kg].
fn taken_kg(there_kg: &mut f64, amount_kg: f64, feed: Feed) -> f64 {
    let rest_kg = *there_kg - amount_kg;
    let taken_kg = if rest_kg < feed.item_kg.min(1e-6) { *there_kg } else { amount_kg };
    *there_kg -= taken_kg;
    taken_kg
}
