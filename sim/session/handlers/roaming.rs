//! Fish that roam: they swim, look round, notice a line, arrive there and leave it.

use crate::angler::Phase;
use crate::engine::{Dice, Observer, Time};
use crate::fish::{
    FeedingMemory, Fish, FishId, FishParams, FishState, HomeCourse, Layer, Leg, Shoal,
    goes_in_spite_of,
};
use crate::numerics::exp;
use crate::scenario::{MAX_LINES, Scenario};
use crate::session::day::Day;
use crate::session::event::{Event, LeaveReason};
use crate::session::swim::Swim;
use crate::session::world::{World, notice_bounds};
use crate::water::{Chart, LineId, Point};

/// How far ahead a fish's way is drawn, and for how long its greatest hunger holds that decides which looks might come to
/// something [s].
const LOOKAHEAD_S: f64 = 3600.0;

/// Where a fish that roams turns next, and how fast it swims there.
struct RoamingGround<'a> {
    shoal: &'a Shoal,
    home: &'a HomeCourse,
    chart: &'a Chart,
    params: &'a FishParams,
    speed_m_s: f64,
    /// The place where it last fed, and the chance that it turns back there.
    remembered: Option<(Point, f64)>,
}

impl<'a> RoamingGround<'a> {
    fn new(fish: &Fish, day: &'a Day, scenario: &'a Scenario, swims: &[Swim]) -> Self {
        let params = &day.fish;
        let returns = |line: LineId| (swims[line.0].at, fish.forage.return_chance(params));
        Self {
            shoal: &scenario.shoals[fish.shoal],
            home: &day.homes[fish.shoal],
            chart: &scenario.chart,
            params,
            speed_m_s: params.cruise_lengths_s * fish.length_m,
            remembered: fish.fed_at.map(returns),
        }
    }

    /// Draws a leg: within the home range, or back to where the fish last fed.
    fn draw_leg(&self, from: Point, begins: Time, dice: &mut Dice) -> Leg {
        let goal = match self.remembered {
            Some((at, chance)) if dice.bernoulli(chance) => Point {
                x_m: at.x_m + self.params.sight_m * dice.normal(),
                y_m: at.y_m + self.params.sight_m * dice.normal(),
            },
            _ => self.shoal.place_in_home(self.home.at(begins), dice),
        };
        let length_m = dice.exponential(self.params.leg_m);
        Leg::towards(from, self.chart.clamp(goal), length_m, self.speed_m_s, begins)
    }
}

impl<W: Observer<Event>> World<'_, W> {
    /// Updates a fish's gut and returns its motivation to come to feed, which multiplies a chance.
    pub(super) fn feeding_motivation(&mut self, fish: FishId) -> f64 {
        let activity = self.day.motivation(self.fish[fish].shoal, self.now);
        self.fish[fish].feeding_motivation(self.now, self.gut_rate_per_s, activity)
    }

    /// Sends a roaming fish on its way: leg after leg, until a look might come to something.
    ///
    /// After each leg the fish looks round, and notices what has a greater chance than a random number. Most looks fail
    /// whatever happens until then, by their number or by their place, so their numbers are drawn with the legs, and only a
    /// look that might come to something is an event. Until then the fish goes its way undisturbed, unless a sound reaches
    /// it: that begins a new way, and what was drawn of the old one is forgotten.
    pub(super) fn start_next_leg(&mut self, index: FishId) {
        let now = self.now;
        let horizon = now.after(LOOKAHEAD_S);
        let fish = &self.fish[index];
        let hunger = fish.appetite.hunger_at(horizon, self.gut_rate_per_s);
        let motivation = fish.motivation(hunger, self.day.most_motivated[fish.shoal]);
        let bound = self.notice_bounds[fish.shoal] * motivation;
        let horizon = horizon.min(self.end);
        let (day, params, swims) = (self.day, &self.day.fish, &self.swims);
        let ground = RoamingGround::new(fish, day, self.scenario, swims);
        let fish = &mut self.fish[index];
        let avoided = fish.avoided_line;
        let (mut from, mut looks) = (fish.way.position(now), now);
        loop {
            let leg = ground.draw_leg(from, looks, &mut fish.dice);
            let pause_s = fish.dice.exponential(params.pause_s);
            let after_leg = leg.ends.after(pause_s.max(1.0));
            fish.stays_s -= after_leg.seconds_since(looks);
            if fish.stays_s < 0.0 {
                fish.stays_s = fish.dice.exponential(params.residence_s);
                if looks == now {
                    self.leave_reach(index);
                    return;
                }
                fish.look = None;
                break;
            }
            if looks == now {
                fish.on_pile = false;
                fish.state = FishState::Roaming;
                fish.way.set_out(leg);
            } else {
                fish.way.then(leg);
            }
            (from, looks) = (leg.to, after_leg);
            let drawn = fish.dice.uniform();
            fish.look = Some(drawn);
            let by_place = || {
                let mut sum = 0.0;
                swims.iter().enumerate().any(|(line, swim)| {
                    let avoids = |(avoided, until)| avoided == LineId(line) && looks < until;
                    if swim.is_used && !avoided.is_some_and(avoids) {
                        sum += swim.notice_bound(&leg, looks, now, day);
                    }
                    drawn < bound * sum
                })
            };
            if looks > horizon || (drawn < bound && by_place()) {
                break;
            }
        }
        self.schedule_fish(index, looks, |fish, mind| Event::FishLooks { fish, mind });
    }

    /// Takes in that a phase of the plan, with the changes of rules, may bring bait to lines that were not used before.
    ///
    /// Fish that roam have planned their looks without these lines, so each looks round after the leg that it swims. Its
    /// pause and how much longer it stays have no memory, so they are drawn again.
    pub(super) fn take_in_lines(&mut self, chosen: &Phase) {
        let mut has_new = false;
        for (index, swim) in self.swims.iter_mut().enumerate() {
            let is_new = !swim.is_used && chosen.uses(LineId(index));
            swim.is_used |= is_new;
            has_new |= is_new;
        }
        if !has_new {
            return;
        }
        self.notice_bounds = notice_bounds(&self.swims, self.scenario, self.day);
        let (params, now) = (&self.day.fish, self.now);
        for index in FishId::all(self.fish.len()) {
            let fish = &mut self.fish[index];
            if fish.state != FishState::Roaming {
                continue;
            }
            let leg = *fish.way.leg(now);
            fish.way.set_out(leg);
            let pause_s = fish.dice.exponential(params.pause_s);
            let looks = leg.ends.max(now).after(pause_s.max(1.0));
            fish.look = Some(fish.dice.uniform());
            if params.passing_share > 0.0 {
                fish.stays_s = fish.dice.exponential(params.residence_s);
            }
            self.schedule_fish(index, looks, |fish, mind| Event::FishLooks { fish, mind });
        }
    }

    /// Draws how long each fish stays in reach, and sends it on its way, now or when it comes.
    pub(super) fn set_fish_roaming(&mut self) {
        let params = &self.day.fish;
        if params.passing_share > 0.0 {
            for fish in &mut self.fish {
                fish.stays_s = fish.dice.exponential(params.residence_s);
            }
        }
        for index in FishId::all(self.fish.len()) {
            let fish = &self.fish[index];
            if fish.state == FishState::Away {
                let roams = |fish, mind| Event::FishRoams { fish, mind };
                self.schedule_fish(index, fish.comes, roams);
            } else {
                self.start_next_leg(index);
            }
        }
    }

    /// A fish swims on along the lake, out of reach, and comes back after a time.
    ///
    /// Times away and times in reach are exponential; their means are as the numbers of fish away and in reach, so that
    /// on a peg that nobody fishes those in reach stay as many as the scenario says, in the mean.
    pub(super) fn leave_reach(&mut self, index: FishId) {
        let (params, now) = (&self.day.fish, self.now);
        let fish = &mut self.fish[index];
        fish.on_pile = false;
        fish.state = FishState::Away;
        fish.way.set_out(Leg::at_rest(fish.way.position(now), now));
        let away_s = fish.dice.exponential(params.residence_s * params.passing_share);
        let returns = now.after(away_s);
        self.schedule_fish(index, returns, |fish, mind| Event::FishRoams { fish, mind });
    }

    /// A roaming fish looks round, or swims on out of reach.
    pub(super) fn fish_looks(&mut self, fish: FishId, generation: u32) {
        if !self.is_current(fish, generation) {
            return;
        }
        match self.fish[fish].look {
            Some(drawn) => {
                self.announce(Event::FishLooks { fish, mind: generation });
                self.look_round(fish, drawn);
            }
            None => self.leave_reach(fish),
        }
    }

    /// A fish looks round: it may smell bait or see other fish feeding, if the chance of that is above what was drawn.
    fn look_round(&mut self, fish: FishId, drawn: f64) {
        let place = self.fish[fish].way.position(self.now);
        let avoided = self.fish[fish].avoided_line.filter(|&(_, until)| self.now < until);
        let avoided = avoided.map(|(line, _)| line);
        let (mut unnoticed, mut sum) = (1.0, 0.0);
        let mut chances = [0.0; MAX_LINES];
        for (index, swim) in self.swims.iter().enumerate() {
            let line = LineId(index);
            if avoided == Some(line) || !swim.is_used {
                continue;
            }
            let mut chance = swim.cues(place, self.now, self.day).either();
            if self.passes_bait(fish, line) {
                chance = 1.0;
            }
            if chance <= 0.0 {
                continue;
            }
            chances[index] = chance * goes_in_spite_of(self.risk(fish, line));
            unnoticed *= 1.0 - chances[index];
            sum += chances[index];
        }
        let noticed = if sum > 0.0 {
            (self.feeding_motivation(fish) * (1.0 - unnoticed)).min(1.0)
        } else {
            0.0
        };
        if drawn >= noticed {
            self.start_next_leg(fish);
            return;
        }
        // The same number chooses the line, in proportion to the chances.
        let mut rest = drawn / noticed * sum;
        let line = chances.iter().take(self.swims.len()).position(|&chance| {
            rest -= chance;
            rest < 0.0
        });
        self.turn_to_line(fish, LineId(line.unwrap_or(0)));
    }

    /// Whether a roaming fish's last leg took it past the pile or the hookbait of a line, close enough to notice.
    fn passes_bait(&self, index: FishId, line: LineId) -> bool {
        let (swim, fish) = (&self.swims[line], &self.fish[index]);
        let hook = self.rod.tackle.line == line && self.rod.hookbait_available();
        if !hook && swim.pile.food_kg <= 0.0 {
            return false;
        }
        let near_m = self.day.fish.passing_m * self.day.sight;
        fish.way.last().squared_distance_m2(swim.pile_at) <= near_m * near_m
    }

    /// A fish swims towards a sound that it heard; it locates it only roughly.
    pub(super) fn turn_to_sound(&mut self, index: FishId, line: LineId, at: Point) {
        let (params, now) = (&self.day.fish, self.now);
        let fish = &mut self.fish[index];
        let error_m = params.locating_error * fish.way.position(now).distance_m(at);
        let goal = Point {
            x_m: at.x_m + error_m * fish.dice.normal(),
            y_m: at.y_m + error_m * fish.dice.normal(),
        };
        self.approach(index, line, self.scenario.chart.clamp(goal));
    }

    /// A fish notices a line and swims towards it.
    pub(super) fn turn_to_line(&mut self, index: FishId, line: LineId) {
        self.approach(index, line, self.swims[line].at);
    }

    /// A fish swims towards where it believes a line to be.
    fn approach(&mut self, index: FishId, line: LineId, goal: Point) {
        self.announce(Event::FishNotices { fish: index, line });
        let fish = &mut self.fish[index];
        let speed_m_s = self.day.fish.approach_lengths_s * fish.length_m;
        let leg = Leg::new(fish.way.position(self.now), goal, speed_m_s, self.now);
        fish.way.set_out(leg);
        fish.state = FishState::Approaching(line);
        let arrives = leg.ends;
        self.schedule_fish(index, arrives, |fish, mind| Event::FishArrives { fish, mind });
    }

    /// A fish reaches the line that it approached, unless it lost the trail on the way.
    pub(super) fn fish_arrives(&mut self, index: FishId, generation: u32) {
        if !self.is_current(index, generation) {
            return;
        }
        let (params, now) = (&self.day.fish, self.now);
        let fish = &mut self.fish[index];
        let Leg { from, to, .. } = *fish.way.last();
        let distance_m = from.distance_m(to);
        let keeps_trail = fish.dice.bernoulli(exp(-params.trail_loss_per_m * distance_m));
        let FishState::Approaching(line) = fish.state else { return };
        if !keeps_trail {
            self.start_next_leg(index);
            return;
        }
        // It finds the line if it came close enough to where bait lies; else it looks round from where it is.
        let swim = &self.swims[line];
        let near_m = (swim.scatter.area_m2 / std::f64::consts::PI).sqrt() + params.passing_m;
        if to.squared_distance_m2(swim.at) > near_m * near_m {
            fish.way.set_out(Leg::at_rest(to, now));
            fish.state = FishState::Roaming;
            let drawn = fish.dice.uniform();
            self.announce(Event::FishLooks { fish: index, mind: generation });
            self.look_round(index, drawn);
            return;
        }
        let fish = &mut self.fish[index];
        if fish.fed_at != Some(line) {
            fish.forage = FeedingMemory::new(params);
            fish.fed_at = Some(line);
        }
        fish.forage.arrive(now, params);
        fish.way.set_out(Leg::at_rest(to, now));
        self.announce(Event::FishArrives { fish: index, mind: generation });
        self.outcome.swim.arrived += 1;
        self.join_layer(index, line, Layer::Bottom);
        self.search(index);
    }

    /// Adds a fish to a layer of a line.
    pub(super) fn join_layer(&mut self, fish: FishId, line: LineId, layer: Layer) {
        self.count_presence();
        self.fish[fish].on_pile = false;
        self.fish[fish].slot = self.swims[line].add_fish(fish, layer);
        self.fish[fish].state = FishState::Feeding(line, layer);
    }

    /// Takes a fish out of its layer, if it is at a line.
    pub(super) fn leave_layer(&mut self, fish: FishId) {
        let FishState::Feeding(line, layer) = self.fish[fish].state else { return };
        self.count_presence();
        let slot = self.fish[fish].slot;
        if let Some(moved) = self.swims[line].remove_fish(slot, layer) {
            self.fish[moved].slot = slot;
        }
    }

    /// A fish leaves its line, if it is at one; the caller decides what it does next.
    pub(super) fn leave_line(&mut self, fish: FishId, why: LeaveReason) {
        if let FishState::Feeding(line, _) = self.fish[fish].state {
            self.announce(Event::FishLeaves { fish, line, why });
        }
        self.leave_layer(fish);
        self.fish[fish].state = FishState::Roaming;
        self.fish[fish].next_generation();
    }

    /// A fish that stayed away roams again.
    pub(super) fn fish_roams(&mut self, fish: FishId, generation: u32) {
        if self.is_current(fish, generation) {
            self.announce(Event::FishRoams { fish, mind: generation });
            self.start_next_leg(fish);
        }
    }
}
