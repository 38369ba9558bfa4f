//! Sounds in the water: some fish come to a splash, some flee from it.

use crate::engine::Observer;
use crate::fish::{FishId, FishState, Layer, Leg, Sound, Trait, goes_in_spite_of};
use crate::numerics::square;
use crate::session::event::{Event, LeaveReason};
use crate::session::world::World;
use crate::water::{LineId, Point};

/// Places that a fish tries before it takes a refuge near what startled it.
const REFUGE_TRIES: usize = 8;
/// Chance of a response up to which no random number is drawn: the fish does not respond.
const MIN_RESPONSE: f64 = 1e-3;

/// Shares of a shoal that come to a kind of sound, and that flee from it.
#[derive(Clone, Copy)]
struct Response {
    comes: f64,
    startles: f64,
}

impl<W: Observer<Event>> World<'_, W> {
    /// A feeder hits the water: conditioned fish come, wary fish flee.
    pub(super) fn on_feeder_splash(&mut self, line: LineId, at: Point, splash_kg: f64) {
        self.sound(line, at, splash_kg, Trait::ComesToSplash, Trait::StartlesAtSplash);
    }

    /// A handful of loose feed hits the water: fish come, few flee, and those below may rise.
    pub(super) fn on_loose_feed_splash(&mut self, line: LineId, amount_kg: f64, mouthfuls: f64) {
        let at = self.swims[line].at;
        self.sound(line, at, amount_kg, Trait::ComesToPatter, Trait::StartlesAtPatter);
        self.rise_to_feed(line, mouthfuls);
    }

    /// Lets every fish in hearing respond to something of `splash_kg` that hits the water.
    fn sound(&mut self, line: LineId, at: Point, splash_kg: f64, comes: Trait, startles: Trait) {
        let sound = Sound::new(splash_kg, self.swims[line].depth_m, &self.day.fish);
        for index in FishId::all(self.fish.len()) {
            let fish = &self.fish[index];
            if !fish.state.heeds_sounds() {
                continue;
            }
            let squared_m2 = fish.way.position(self.now).squared_distance_m2(at);
            if squared_m2 <= square(sound.reach_m()) {
                let traits = &self.day.traits[fish.shoal];
                let response = Response { comes: traits[comes], startles: traits[startles] };
                self.respond_to_sound(index, line, at, squared_m2.sqrt(), &sound, response);
            }
        }
    }

    /// One fish responds to a sound by fleeing, by coming, or not at all.
    fn respond_to_sound(
        &mut self,
        index: FishId,
        line: LineId,
        at: Point,
        distance_m: f64,
        sound: &Sound,
        response: Response,
    ) {
        let (params, now) = (&self.day.fish, self.now);
        let fish = &mut self.fish[index];
        let calm = response.startles * sound.startle_share(distance_m);
        let p = if calm > 0.0 { calm * fish.fright.startles_more(now, params) } else { 0.0 };
        if p > MIN_RESPONSE && fish.dice.bernoulli(p) {
            self.startle(index, sound.nearness(distance_m));
            return;
        }
        if matches!(fish.state, FishState::Feeding(at_line, _) if at_line == line) {
            fish.forage.learn(now, params);
        }
        if fish.state == FishState::Roaming {
            let expected_value = if fish.fed_at == Some(line) {
                fish.forage.responsiveness_to_signal(params)
            } else {
                1.0
            };
            let expected_value = params.naive_readiness * expected_value;
            let p = (response.comes * expected_value).min(1.0)
                * sound.heard_share(distance_m / self.day.feeding_activity.sqrt());
            if p <= MIN_RESPONSE {
                return;
            }
            let drawn = fish.dice.uniform();
            if drawn < p * fish.max_feeding_motivation(self.day.feeding_activity) {
                let goes = goes_in_spite_of(self.risk(index, line));
                if drawn < goes * p * self.feeding_motivation(index) {
                    self.turn_to_sound(index, line, at);
                }
            }
        }
    }

    /// A fish is startled and stays away for a while; companions at its line may flee with it, or become wary.
    ///
    /// Its `strength` is 1 for a fright close by.
    pub(super) fn startle(&mut self, index: FishId, strength: f64) {
        let state = self.fish[index].state;
        self.frighten(index, strength);
        let FishState::Feeding(line, _) = state else { return };
        for layer in [Layer::Up, Layer::Bottom] {
            for slot in (0..self.swims[line].layer(layer).len()).rev() {
                let companion = self.swims[line].layer(layer)[slot];
                let params = &self.day.fish;
                if self.fish[companion].dice.bernoulli(params.flight_spreads) {
                    self.frighten(companion, strength);
                } else {
                    self.see_fright(companion, strength);
                }
            }
        }
    }

    /// A fish sees another flee, and stays.
    pub(super) fn see_fright(&mut self, index: FishId, strength: f64) {
        let (params, now) = (&self.day.fish, self.now);
        let fish = &mut self.fish[index];
        fish.fright.add(strength * params.fright_seen, fish.way.position(now), now, params);
    }

    /// One fish is frightened, by itself or by another, and flees.
    pub(super) fn frighten(&mut self, fish: FishId, strength: f64) {
        self.outcome.swim.scared += 1;
        self.flee(fish, strength);
    }

    /// A fish flees, from its line or from anywhere else, and stays away for a while.
    pub(super) fn flee(&mut self, fish: FishId, strength: f64) {
        let (params, now) = (&self.day.fish, self.now);
        let place = self.fish[fish].way.position(now);
        self.fish[fish].fright.add(strength, place, now, params);
        self.leave_line(fish, LeaveReason::Startled);
        let away_s = self.fish[fish].dice.exponential(self.day.fish.refuge_s);
        self.stay_away(fish, FishState::Fled, away_s);
    }

    /// A fish swims fast to a place in its home range, away from what startled it, and stays there for a time.
    pub(super) fn stay_away(&mut self, index: FishId, state: FishState, away_s: f64) {
        let params = &self.day.fish;
        let fish = &mut self.fish[index];
        let shoal = &self.scenario.shoals[fish.shoal];
        let home = self.day.home(fish.shoal, self.now);
        let from = fish.way.position(self.now);
        let mut refuge = from;
        for _ in 0..REFUGE_TRIES {
            refuge = self.scenario.chart.clamp(shoal.place_in_home(home, &mut fish.dice));
            if refuge.distance_m(from) > params.startle_radius_m {
                break;
            }
        }
        let speed_m_s = params.flight_lengths_s * fish.length_m;
        let leg = Leg::new(from, refuge, speed_m_s, self.now);
        fish.way.set_out(leg);
        fish.state = state;
        let returns = leg.ends.after(away_s);
        self.schedule_fish(index, returns, |fish, mind| Event::FishRoams { fish, mind });
    }
}
