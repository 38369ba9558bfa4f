//! What happens to fish: they look round, come, feed, rise, flee and go.

use super::day::home_place;
use super::event::{Event, Gone};
use super::rod::HookIs;
use super::world::{World, rank};
use crate::engine::{Agenda, Time, Watch};
use crate::fish::{
    Forage, Layer, Leg, Sound, State, company, handling_s, search_rate_per_s, smelt,
};
use crate::scenario::MOST_LINES;
use crate::water::Point;

/// Places that a fish tries before it takes a refuge close to what startled it.
const REFUGE_TRIES: usize = 8;
/// Chance of answering a sound up to which nothing is drawn: the fish takes no notice.
const LEAST_ANSWER: f64 = 1e-3;
/// Hunger below which a fish is full.
const FULL_BELOW: f64 = 0.05;

impl<W: Watch<Event>> World<'_, W> {
    /// Brings a fish's gut up to now and returns its drive to come to feed: hunger times the day's keenness
    /// times its own habit; multiplies a chance, so that only a fish of strong habit comes for certain.
    fn drive(&mut self, fish: usize) -> f64 {
        let one = &mut self.fish[fish];
        one.appetite.digest_until(self.now, self.gut_rate_per_s);
        one.appetite.hunger() * self.day.keenness * one.habit
    }

    /// The most that a fish's drive can be: that of an empty gut.
    fn most_drive(&self, fish: usize) -> f64 {
        self.day.keenness * self.fish[fish].habit
    }

    /// Sends a roaming fish on its next leg within its home range.
    pub(super) fn swim_on(&mut self, fish: usize, agenda: &mut Agenda<Event>) {
        let one = &mut self.fish[fish];
        let shoal = &self.scenario.shoals[one.shoal];
        let home = self.day.homes[one.shoal];
        let back = one.trusts.filter(|_| {
            let p = one.forage.returns(&self.day.fish);
            one.dice.chance(p)
        });
        let goal = if let Some(line) = back {
            let (at, spread_m) = (self.swims[line].at, self.day.fish.sight_m);
            Point {
                x_m: at.x_m + spread_m * one.dice.normal(),
                y_m: at.y_m + spread_m * one.dice.normal(),
            }
        } else {
            home_place(shoal.home_half_length_m, shoal.home_half_width_m, home, &mut one.dice)
        };
        let goal = self.scenario.chart.clamp(goal);
        let from = one.leg.at(self.now);
        let length_m = one.dice.exponential(self.day.fish.leg_m);
        let speed_m_s = self.day.fish.cruise_lengths_s * one.length_m;
        one.leg = Leg::towards(from, goal, length_m, speed_m_s, self.now);
        let pauses_s = one.dice.exponential(self.day.fish.pause_s);
        let looks = one.leg.ends.after(pauses_s.max(1.0));
        one.state = State::Roaming;
        one.mind += 1;
        let mind = one.mind;
        agenda.enter(looks, rank::FISH, Event::FishLooks { fish, mind });
    }

    /// Whether an event still concerns what the fish has in mind.
    fn minds(&self, fish: usize, mind: u32) -> bool {
        self.fish[fish].mind == mind && self.law.is_none()
    }

    /// A roaming fish looks round: it may smell bait or see others feeding.
    pub(super) fn fish_looks(&mut self, fish: usize, mind: u32, agenda: &mut Agenda<Event>) {
        if !self.minds(fish, mind) {
            return;
        }
        self.show(Event::FishLooks { fish, mind });
        // Chance is drawn first: most looks come to nothing whatever there is to smell, and need no sniff.
        let drawn = self.fish[fish].dice.uniform();
        if drawn >= self.most_drive(fish) {
            self.swim_on(fish, agenda);
            return;
        }
        let one = &self.fish[fish];
        let here = one.leg.at(self.now);
        let ignores = one.gave_up.filter(|&(_, until)| self.now < until).map(|(line, _)| line);
        let (mut unnoticed, mut sum) = (1.0, 0.0);
        let mut chances = [0.0; MOST_LINES];
        for (line, swim) in self.swims.iter().enumerate() {
            if ignores == Some(line) {
                continue;
            }
            let smells = smelt(swim.plume.concentration_mol_m3(here, self.now), &self.day.fish);
            let near = here.squared_distance_m2(swim.at) <= self.day.fish.sight_m.powi(2);
            let sees = if near {
                company(swim.eaten_lately(self.now, self.day), &self.day.fish)
            } else {
                0.0
            };
            chances[line] = 1.0 - (1.0 - smells) * (1.0 - sees);
            unnoticed *= 1.0 - chances[line];
            sum += chances[line];
        }
        let noticed = if sum > 0.0 { (self.drive(fish) * (1.0 - unnoticed)).min(1.0) } else { 0.0 };
        if drawn >= noticed {
            self.swim_on(fish, agenda);
            return;
        }
        let mut left = drawn / noticed * sum;
        let line = chances.iter().take(self.swims.len()).position(|&chance| {
            left -= chance;
            left < 0.0
        });
        self.fish_notices(fish, line.unwrap_or(0), agenda);
    }

    /// A fish turns to a line.
    fn fish_notices(&mut self, fish: usize, line: usize, agenda: &mut Agenda<Event>) {
        self.show(Event::FishNotices { fish, line });
        let now = self.now;
        let one = &mut self.fish[fish];
        let speed_m_s = self.day.fish.approach_lengths_s * one.length_m;
        one.leg = Leg::new(one.leg.at(now), self.swims[line].at, speed_m_s, now);
        one.state = State::Approaching(line);
        one.mind += 1;
        let mind = one.mind;
        agenda.enter(one.leg.ends, rank::FISH, Event::FishArrives { fish, mind });
    }

    /// A fish reaches the line it approached, unless it lost interest on the way.
    pub(super) fn fish_arrives(&mut self, fish: usize, mind: u32, agenda: &mut Agenda<Event>) {
        if !self.minds(fish, mind) {
            return;
        }
        let one = &mut self.fish[fish];
        let way_m = one.leg.from.distance_m(one.leg.to);
        let stays = one.dice.chance((-self.day.fish.trail_loss_per_m * way_m).exp());
        let State::Approaching(line) = one.state else { return };
        if !stays {
            self.swim_on(fish, agenda);
            return;
        }
        if one.trusts != Some(line) {
            one.forage = Forage::fresh(&self.day.fish);
            one.trusts = Some(line);
        }
        one.forage.arrives(self.now, &self.day.fish);
        one.leg = Leg::rest(self.swims[line].at, self.now);
        self.show(Event::FishArrives { fish, mind });
        self.outcome.swim.arrived += 1;
        self.join(fish, line, Layer::Bottom);
        self.search(fish, agenda);
    }

    /// Puts a fish among those at a line.
    fn join(&mut self, fish: usize, line: usize, layer: Layer) {
        self.count_presence();
        let swim = &mut self.swims[line];
        let list = if layer == Layer::Bottom { &mut swim.below } else { &mut swim.up };
        self.fish[fish].slot = list.len();
        self.fish[fish].state = State::Feeding(line, layer);
        list.push(fish);
    }

    /// Takes a fish from among those at its line, if it is at one.
    fn part(&mut self, fish: usize) {
        let State::Feeding(line, layer) = self.fish[fish].state else { return };
        self.count_presence();
        let slot = self.fish[fish].slot;
        let swim = &mut self.swims[line];
        let list = if layer == Layer::Bottom { &mut swim.below } else { &mut swim.up };
        list.swap_remove(slot);
        if let Some(&moved) = list.get(slot) {
            self.fish[moved].slot = slot;
        }
    }

    /// A fish leaves its line and is nowhere until its next state is set.
    pub(super) fn fish_leaves(&mut self, fish: usize, why: Gone) {
        if let State::Feeding(line, _) = self.fish[fish].state {
            self.show(Event::FishLeaves { fish, line, why });
        }
        self.part(fish);
        self.fish[fish].state = State::Roaming;
        self.fish[fish].mind += 1;
    }

    /// Whether the hookbait lies on a line for a fish, and where.
    fn hook_for(&self, fish: usize, line: usize) -> Option<HookIs> {
        let there = self.rod.hookbait_there() && self.rod.line == line;
        (there && self.fish[fish].refuses_until <= self.now).then_some(self.rod.hook)
    }

    /// Rates at which a fish would come upon something on the pile and in the scatter [1/s].
    fn search_rates_per_s(&self, fish: usize, line: usize) -> (f64, f64) {
        let swim = &self.swims[line];
        let hook = self.hook_for(fish, line);
        let on_pile = swim.pile.mouthfuls() + f64::from(u8::from(hook == Some(HookIs::OnPile)));
        let about = swim.scatter.mouthfuls() + f64::from(u8::from(hook == Some(HookIs::InScatter)));
        (
            search_rate_per_s(on_pile / swim.pile.area_m2, &self.day.fish),
            search_rate_per_s(about / swim.scatter.area_m2, &self.day.fish),
        )
    }

    /// A feeding fish searches, once it has swallowed: it finds something, or gives up first.
    ///
    /// It searches where it would find sooner. The draw is thinned when it comes due, should others have
    /// eaten in the meantime; feed that comes, a bare hookbait and a pile that is scattered make all fish on
    /// the line draw anew. A fish that begins to heed hookbaits again does so from its next draw.
    fn search(&mut self, fish: usize, agenda: &mut Agenda<Event>) {
        let State::Feeding(line, Layer::Bottom) = self.fish[fish].state else { return };
        let (pile_per_s, scatter_per_s) = self.search_rates_per_s(fish, line);
        let one = &mut self.fish[fish];
        one.on_pile = pile_per_s >= scatter_per_s;
        one.searching_per_s = pile_per_s.max(scatter_per_s);
        one.mind += 1;
        let mind = one.mind;
        let starts = one.swallows_until.max(self.now);
        let gives_up = one.forage.gives_up_at(&self.day.fish).max(starts);
        let finds = if one.searching_per_s > 0.0 {
            starts.after(one.dice.exponential(1.0) / one.searching_per_s)
        } else {
            Time::NEVER
        };
        if finds < gives_up {
            agenda.enter(finds, rank::FISH, Event::FishFinds { fish, mind });
        } else {
            agenda.enter(gives_up, rank::FISH, Event::FishGivesUp { fish, mind });
        }
    }

    /// What lies on a line has changed: every fish on the bed there searches anew.
    pub(super) fn search_anew(&mut self, line: usize, agenda: &mut Agenda<Event>) {
        for slot in 0..self.swims[line].below.len() {
            self.search(self.swims[line].below[slot], agenda);
        }
    }

    /// Feed came: every fish on the bed at a line takes heart and searches anew.
    pub(super) fn search_again(&mut self, line: usize, agenda: &mut Agenda<Event>) {
        for slot in 0..self.swims[line].below.len() {
            let fish = self.swims[line].below[slot];
            self.fish[fish].forage.encouraged(self.now, &self.day.fish);
            self.search(fish, agenda);
        }
    }

    /// A fish comes upon a mouthful: feed, or the hookbait.
    pub(super) fn fish_finds(&mut self, fish: usize, mind: u32, agenda: &mut Agenda<Event>) {
        if !self.minds(fish, mind) {
            return;
        }
        let State::Feeding(line, Layer::Bottom) = self.fish[fish].state else { return };
        self.lose_bait(line);
        let (pile_per_s, scatter_per_s) = self.search_rates_per_s(fish, line);
        let one = &mut self.fish[fish];
        let on_pile = one.on_pile;
        let rate_per_s = if on_pile { pile_per_s } else { scatter_per_s };
        if !one.dice.chance(rate_per_s / one.searching_per_s) {
            self.search(fish, agenda);
            return;
        }
        self.show(Event::FishFinds { fish, mind });
        let hook = self.hook_for(fish, line);
        let beside = hook == Some(if on_pile { HookIs::OnPile } else { HookIs::InScatter });
        let swim = &mut self.swims[line];
        let patch = if on_pile { &mut swim.pile } else { &mut swim.scatter };
        let mouthfuls = patch.mouthfuls();
        let meets = beside && self.fish[fish].dice.chance(1.0 / (1.0 + mouthfuls));
        if meets {
            self.meets_hookbait(fish, agenda);
            return;
        }
        let on_bed_kg = swim.pile.food_kg + swim.scatter.food_kg;
        let patch = if on_pile { &mut swim.pile } else { &mut swim.scatter };
        let eaten_kg = patch.take_mouthful();
        if on_bed_kg > 0.0 {
            swim.attractant.lose_share(eaten_kg / on_bed_kg);
        }
        if beside {
            self.outcome.swim.mouthfuls_beside += 1;
        }
        swim.seen_eating(1.0, self.now, self.day);
        self.outcome.bait.eaten_kg += eaten_kg;
        self.show(Event::FishEats { fish, line });
        self.fish[fish].forage.found(self.now, 1.0, &self.day.fish);
        let one = &mut self.fish[fish];
        one.appetite.digest_until(self.now, self.gut_rate_per_s);
        one.appetite.eat(eaten_kg);
        self.swallow(fish, line, agenda);
    }

    /// A fish swallows what it has found and goes on, or is full and goes.
    pub(super) fn swallow(&mut self, fish: usize, line: usize, agenda: &mut Agenda<Event>) {
        let hunger = self.fish[fish].appetite.hunger();
        if hunger < FULL_BELOW {
            self.fish_leaves(fish, Gone::Full);
            self.swim_on(fish, agenda);
            return;
        }
        let feeding = self.swims[line].below.len();
        let takes_s = handling_s(self.fish[fish].mass_kg(), hunger, feeding, &self.day.fish);
        self.fish[fish].swallows_until = self.now.after(takes_s);
        self.search(fish, agenda);
    }

    /// A fish's patience ends.
    pub(super) fn fish_gives_up(&mut self, fish: usize, mind: u32, agenda: &mut Agenda<Event>) {
        if !self.minds(fish, mind) {
            return;
        }
        self.show(Event::FishGivesUp { fish, mind });
        self.outcome.swim.gave_up += 1;
        if let State::Feeding(line, _) = self.fish[fish].state {
            let one = &mut self.fish[fish];
            let sulks_s = one.dice.exponential(self.day.fish.disappointment_s);
            one.forage.learns(self.now, &self.day.fish);
            one.gave_up = Some((line, self.now.after(sulks_s)));
        }
        self.fish_leaves(fish, Gone::GaveUp);
        self.swim_on(fish, agenda);
    }

    /// A feeder hits the water: conditioned fish come, wary ones flee.
    pub(super) fn splash(
        &mut self,
        line: usize,
        at: Point,
        splash_kg: f64,
        agenda: &mut Agenda<Event>,
    ) {
        let sound = Sound::of(splash_kg, self.swims[line].depth_m, &self.day.fish);
        for fish in 0..self.fish.len() {
            let traits = &self.day.traits[self.fish[fish].shoal];
            let answers = (traits.comes_to_splash, traits.startles_at_splash);
            self.hears(fish, line, at, &sound, answers, agenda);
        }
    }

    /// A handful of feed hits the water: fish come, few flee, and those below may rise.
    pub(super) fn patter(
        &mut self,
        line: usize,
        amount_kg: f64,
        mouthfuls: f64,
        agenda: &mut Agenda<Event>,
    ) {
        let at = self.swims[line].at;
        let sound = Sound::of(amount_kg, self.swims[line].depth_m, &self.day.fish);
        for fish in 0..self.fish.len() {
            let traits = &self.day.traits[self.fish[fish].shoal];
            let answers = (traits.comes_to_patter, traits.startles_at_patter);
            self.hears(fish, line, at, &sound, answers, agenda);
        }
        self.rise(line, mouthfuls, agenda);
    }

    /// One fish in hearing answers a sound by fleeing, by coming, or not at all.
    fn hears(
        &mut self,
        fish: usize,
        line: usize,
        at: Point,
        sound: &Sound,
        (comes, startles): (f64, f64),
        agenda: &mut Agenda<Event>,
    ) {
        let one = &self.fish[fish];
        let state = one.state;
        if matches!(state, State::Fled | State::Hooked | State::Kept | State::Resting) {
            return;
        }
        let squared_m2 = one.leg.at(self.now).squared_distance_m2(at);
        if squared_m2 > sound.reach_m().powi(2) {
            return;
        }
        let distance_m = squared_m2.sqrt();
        let p = startles * sound.startles(distance_m);
        if p > LEAST_ANSWER && self.fish[fish].dice.chance(p) {
            self.take_fright(fish, agenda);
            return;
        }
        if matches!(state, State::Feeding(at, _) if at == line) {
            self.fish[fish].forage.learns(self.now, &self.day.fish);
        }
        if state == State::Roaming {
            let one = &self.fish[fish];
            let trusted = one.trusts == Some(line);
            let ready = if trusted { one.forage.readiness(&self.day.fish) } else { 1.0 };
            let p = comes * ready * sound.heard(distance_m);
            if p <= LEAST_ANSWER {
                return;
            }
            let drawn = self.fish[fish].dice.uniform();
            if drawn < p * self.most_drive(fish) && drawn < p * self.drive(fish) {
                self.fish_notices(fish, line, agenda);
            }
        }
    }

    /// A fish takes fright and stays away for a while.
    pub(super) fn take_fright(&mut self, fish: usize, agenda: &mut Agenda<Event>) {
        self.outcome.swim.scared += 1;
        self.flee(fish, agenda);
    }

    /// A fish leaves its line, or what it was about, and stays away for a while.
    pub(super) fn flee(&mut self, fish: usize, agenda: &mut Agenda<Event>) {
        self.fish_leaves(fish, Gone::Startled);
        let away_s = self.fish[fish].dice.exponential(self.day.fish.refuge_s);
        self.stay_away(fish, State::Fled, away_s, agenda);
    }

    /// A fish swims fast to a place in its home range, away from what startled it, and stays there for a time.
    pub(super) fn stay_away(
        &mut self,
        fish: usize,
        state: State,
        away_s: f64,
        agenda: &mut Agenda<Event>,
    ) {
        let one = &mut self.fish[fish];
        let shoal = &self.scenario.shoals[one.shoal];
        let home = self.day.homes[one.shoal];
        let from = one.leg.at(self.now);
        let mut refuge = from;
        for _ in 0..REFUGE_TRIES {
            let (length_m, width_m) = (shoal.home_half_length_m, shoal.home_half_width_m);
            refuge = self.scenario.chart.clamp(home_place(length_m, width_m, home, &mut one.dice));
            if refuge.distance_m(from) > self.day.fish.startle_radius_m {
                break;
            }
        }
        let speed_m_s = self.day.fish.flight_lengths_s * one.length_m;
        one.leg = Leg::new(from, refuge, speed_m_s, self.now);
        one.state = state;
        one.mind += 1;
        let mind = one.mind;
        let returns = one.leg.ends.after(away_s);
        agenda.enter(returns, rank::FISH, Event::FishRoams { fish, mind });
    }

    /// A fish that stayed away roams again.
    pub(super) fn fish_roams(&mut self, fish: usize, mind: u32, agenda: &mut Agenda<Event>) {
        if self.minds(fish, mind) {
            self.show(Event::FishRoams { fish, mind });
            self.swim_on(fish, agenda);
        }
    }

    /// Feed falls: fish below weigh what falls against what lies, and some come up for it.
    fn rise(&mut self, line: usize, falling: f64, agenda: &mut Agenda<Event>) {
        let lying = self.swims[line].mouthfuls();
        let keen = falling / (falling + lying).max(1e-9);
        for slot in (0..self.swims[line].below.len()).rev() {
            let fish = self.swims[line].below[slot];
            let rises = self.day.traits[self.fish[fish].shoal].rises;
            if !self.fish[fish].dice.chance(rises * keen) {
                continue;
            }
            self.part(fish);
            self.join(fish, line, Layer::Up);
            self.fish[fish].mind += 1;
            self.show(Event::FishRises { fish, line });
            if self.fish[fish].dice.chance(self.day.fish.shows_share) {
                self.show(Event::FishShows { fish, line });
                self.outcome.swim.shown += 1;
            }
            self.wait_up(fish, agenda);
        }
    }

    /// A fish that is up waits for more feed, for a time.
    fn wait_up(&mut self, fish: usize, agenda: &mut Agenda<Event>) {
        let one = &mut self.fish[fish];
        one.mind += 1;
        let mind = one.mind;
        let waits_s = one.dice.exponential(self.day.fish.up_patience_s);
        agenda.enter(self.now.after(waits_s), rank::FISH, Event::FishGoesDown { fish, mind });
    }

    /// What fish that are up take of falling feed, each as fast as it can swallow [kg].
    pub(super) fn intercept(&mut self, line: usize, throw: usize) -> f64 {
        let throw = self.throws[throw];
        let up = self.swims[line].up.len();
        let mut left_kg = throw.falling.food_kg;
        for slot in 0..up {
            let fish = self.swims[line].up[slot];
            let one = &mut self.fish[fish];
            one.appetite.digest_until(self.now, self.gut_rate_per_s);
            let hunger = one.appetite.hunger();
            let each_s = handling_s(one.mass_kg(), hunger, up, &self.day.fish);
            let could_kg = throw.falling.fall_s / each_s * throw.mouthful_kg;
            let fair_kg = left_kg / (up - slot) as f64;
            let room_kg = hunger * one.appetite.capacity_kg;
            let taken_kg = could_kg.min(fair_kg).min(room_kg);
            one.appetite.eat(taken_kg);
            one.forage.found(self.now, taken_kg / throw.mouthful_kg, &self.day.fish);
            left_kg -= taken_kg;
        }
        let taken_kg = throw.falling.food_kg - left_kg;
        self.outcome.bait.eaten_kg += taken_kg;
        let mouthfuls = taken_kg / throw.mouthful_kg;
        self.swims[line].seen_eating(mouthfuls, self.now, self.day);
        taken_kg
    }

    /// Feed that passed the fish pulls them down after it; the rest wait for more.
    pub(super) fn follow_down(
        &mut self,
        line: usize,
        landed_kg: f64,
        taken_kg: f64,
        agenda: &mut Agenda<Event>,
    ) {
        let passed = landed_kg / (landed_kg + taken_kg).max(1e-12);
        for slot in (0..self.swims[line].up.len()).rev() {
            let fish = self.swims[line].up[slot];
            if self.fish[fish].dice.chance(passed) {
                let mind = self.fish[fish].mind;
                self.fish_goes_down(fish, mind, agenda);
            } else {
                self.wait_up(fish, agenda);
            }
        }
    }

    /// A fish that was up goes back to the bed.
    pub(super) fn fish_goes_down(&mut self, fish: usize, mind: u32, agenda: &mut Agenda<Event>) {
        if !self.minds(fish, mind) {
            return;
        }
        let State::Feeding(line, Layer::Up) = self.fish[fish].state else { return };
        self.show(Event::FishGoesDown { fish, mind });
        self.part(fish);
        self.join(fish, line, Layer::Bottom);
        self.fish[fish].forage.encouraged(self.now, &self.day.fish);
        self.search(fish, agenda);
    }
}
