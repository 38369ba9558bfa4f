//! What happens to the angler: phases, casts, waits, throws.

use super::event::Event;
use super::outcome::TimeUse;
use super::rod::{Activity, HookIs, Load, RigAt, Step};
use super::swim::{Swim, Throw, pile_area_m2};
use super::world::{World, rank};
use crate::angler::{Hold, LooseFeed, Phase, cast as cast_at};
use crate::bait::{Falling, LoadStyle, Opening};
use crate::engine::{Agenda, Watch};
use crate::water::Point;

/// Lines closer to the mark than this are the same throw away as any [m].
const NEAREST_CAST_M: f64 = 2.0;

impl<W: Watch<Event>> World<'_, W> {
    /// A phase of the plan begins: what it feeds falls due, and a rig set for another line comes in.
    ///
    /// Feed that goes on as it was in the phase before keeps its rhythm; other feed that was due is not thrown.
    pub(super) fn phase_begins(&mut self, phase: usize, agenda: &mut Agenda<Event>) {
        self.show(Event::PhaseBegins { phase });
        self.hands.phase = Some(phase);
        let number = phase;
        self.turn_to_phase(&self.plan.phases[number]);
        let chosen = self.hands.chosen.clone().unwrap_or_else(|| self.plan.phases[number].clone());
        let next = std::mem::take(&mut self.hands.next_feed);
        self.hands.due.retain(|due| chosen.loose_feed.contains(due));
        for (feed, &fed) in chosen.loose_feed.iter().enumerate() {
            let kept = next.iter().find(|&&(old, at)| old == fed && at > self.now);
            if let Some(&(_, at)) = kept {
                self.hands.next_feed.push((fed, at));
                agenda.enter(at, rank::HANDS, Event::LooseFeedDue { phase: number, feed });
            } else {
                self.feed_falls_due(number, feed, fed, agenda);
            }
        }
        if self.rod.bait_in_water() {
            self.leave_other_line(agenda);
        } else if self.hands.activity == Activity::Idle {
            self.take_up(Activity::Idle, Step::Decide, 0.0, agenda);
        }
    }

    /// A phase ends with none to follow at once: the rod comes out of the water.
    pub(super) fn phase_ends(&mut self, phase: usize, agenda: &mut Agenda<Event>) {
        if self.hands.phase != Some(phase) {
            return;
        }
        self.show(Event::PhaseEnds { phase });
        self.hands.phase = None;
        self.turn_away();
        self.hands.due.clear();
        self.hands.next_feed.clear();
        if self.rod.bait_in_water() {
            self.leave_other_line(agenda);
        }
    }

    /// Winds in a rig that lies on a line which the plan no longer fishes.
    pub(super) fn leave_other_line(&mut self, agenda: &mut Agenda<Event>) {
        if self.phase().is_none_or(|phase| phase.line != self.rod.line) {
            self.wind_in_when_free(self.rod.cast, agenda);
        }
    }

    /// Loose feed of a phase falls due; the next of its kind is entered.
    pub(super) fn loose_feed_due(&mut self, phase: usize, feed: usize, agenda: &mut Agenda<Event>) {
        if self.hands.phase != Some(phase) {
            return;
        }
        let chosen = self.phase().and_then(|chosen| chosen.loose_feed.get(feed)).copied();
        // Where a rule has changed the feed since, it falls due at another time.
        if let Some(fed) = chosen.filter(|&fed| self.hands.next_feed.contains(&(fed, self.now))) {
            self.feed_falls_due(phase, feed, fed, agenda);
        }
    }

    fn feed_falls_due(
        &mut self,
        phase: usize,
        feed: usize,
        fed: LooseFeed,
        agenda: &mut Agenda<Event>,
    ) {
        // With the plan's bait used up there is nothing to throw, and no hand is lifted.
        if self.within_limit_kg(fed.amount_kg) <= 0.0 {
            return;
        }
        self.show(Event::LooseFeedDue { phase, feed });
        if !self.hands.due.contains(&fed) {
            self.hands.due.push(fed);
        }
        let next = self.now.after(fed.every_s);
        self.hands.next_feed.retain(|&(old, _)| old != fed);
        self.hands.next_feed.push((fed, next));
        agenda.enter(next, rank::HANDS, Event::LooseFeedDue { phase, feed });
        if self.hands.activity == Activity::Waiting {
            self.throw_next(agenda);
        }
    }

    /// Starts on the next handful that is due, if there is one.
    fn throw_next(&mut self, agenda: &mut Agenda<Event>) -> bool {
        if self.hands.due.is_empty() {
            return false;
        }
        let feed = self.hands.due.remove(0);
        let takes_s = self.hand_time_s(self.day.angler.feed_s);
        self.take_up(Activity::Feeding, Step::Throw { feed }, takes_s, agenda);
        true
    }

    /// Turns to another task: time so far goes to the old one.
    pub(super) fn take_up(
        &mut self,
        activity: Activity,
        step: Step,
        takes_s: f64,
        agenda: &mut Agenda<Event>,
    ) {
        self.book_time();
        self.hands.activity = activity;
        self.hands.step = step;
        self.hands.turn += 1;
        if takes_s.is_finite() {
            let event = Event::AnglerTurns { turn: self.hands.turn };
            agenda.enter(self.now.after(takes_s), rank::HANDS, event);
        }
    }

    /// Adds the time since the present task began to its account.
    pub(super) fn book_time(&mut self) {
        let elapsed_s = self.now.seconds_since(self.hands.since);
        self.hands.since = self.now;
        let time: &mut TimeUse = &mut self.outcome.time;
        match self.hands.activity {
            Activity::Casting => time.casting_s += elapsed_s,
            Activity::Waiting => time.waiting_s += elapsed_s,
            Activity::Playing => time.playing_s += elapsed_s,
            Activity::Rebaiting => time.rebaiting_s += elapsed_s,
            Activity::Feeding => time.feeding_s += elapsed_s,
            Activity::Other | Activity::Idle => time.other_s += elapsed_s,
        }
    }

    /// A task of the hands that typically takes so long [s].
    pub(super) fn hand_time_s(&mut self, typical_s: f64) -> f64 {
        self.hands_dice.lognormal(typical_s, self.day.angler.time_spread_ln)
    }

    /// The present task is done.
    pub(super) fn angler_turns(&mut self, turn: u32, agenda: &mut Agenda<Event>) {
        if turn != self.hands.turn {
            return;
        }
        match self.hands.step {
            Step::Cast if self.phase().is_none_or(|phase| phase.line != self.rod.line) => {
                self.decide(agenda);
            }
            Step::Cast => {
                let flight_s = self.hand_time_s(self.day.angler.cast_flight_s);
                self.take_up(Activity::Casting, Step::Decide, f64::INFINITY, agenda);
                let (cast, line) = (self.rod.cast + 1, self.rod.line);
                agenda.enter(
                    self.now.after(flight_s),
                    rank::HANDS,
                    Event::RigIsCast { cast, line },
                );
            }
            Step::Throw { feed } => {
                self.loose_feed_thrown(feed, agenda);
                if self.throw_next(agenda) {
                    return;
                }
                if !self.rod.bait_in_water() {
                    self.decide(agenda);
                } else if self.now >= self.rod.recast_at {
                    self.wind_in(agenda);
                } else {
                    self.take_up(Activity::Waiting, Step::Decide, f64::INFINITY, agenda);
                }
            }
            Step::Decide => self.decide(agenda),
        }
    }

    /// The rod is out of the water and the hands are free: what is due?
    fn decide(&mut self, agenda: &mut Agenda<Event>) {
        let running = self.phase().filter(|phase| self.now.seconds() < phase.until_s).cloned();
        let Some(phase) = running else {
            self.take_up(Activity::Idle, Step::Decide, f64::INFINITY, agenda);
            return;
        };
        if self.throw_next(agenda) {
            return;
        }
        let moves = self.hands.set_up_for.is_some_and(|line| line != phase.line);
        self.hands.set_up_for = Some(phase.line);
        if moves {
            let takes_s = self.hand_time_s(self.day.angler.move_line_s);
            self.take_up(Activity::Other, Step::Decide, takes_s, agenda);
            return;
        }
        self.load_up(&phase);
        let takes_s = self.hand_time_s(self.day.angler.load_s);
        self.take_up(Activity::Rebaiting, Step::Cast, takes_s, agenda);
    }

    /// Puts load and hookbait on, as the phase says and the bait limit allows.
    fn load_up(&mut self, phase: &Phase) {
        self.rod.line = phase.line;
        self.rod.recipe = phase.recipe;
        self.rod.hookbait = phase.hookbait;
        self.rod.buried = phase.buried;
        self.rod.squeeze = phase.squeeze;
        self.rod.feeder_kg = phase.feeder_kg;
        self.rod.recast_s = phase.recast_s;
        self.rod.pressed_kg = self.within_limit_kg(phase.load_kg);
    }

    /// How much of an amount the plan's bait limit still allows [kg].
    fn within_limit_kg(&self, amount_kg: f64) -> f64 {
        let left_kg = self
            .plan
            .bait_limit_kg
            .map_or(f64::INFINITY, |limit_kg| (limit_kg - self.outcome.bait_kg()).max(0.0));
        amount_kg.min(left_kg)
    }

    /// A handful hits the water over its line.
    fn loose_feed_thrown(&mut self, feed: LooseFeed, agenda: &mut Agenda<Event>) {
        let amount_kg = self.within_limit_kg(feed.amount_kg);
        if amount_kg <= 0.0 {
            return;
        }
        self.show(Event::LooseFeedThrown { line: feed.line, mass_kg: amount_kg });
        self.outcome.bait.loose_kg += amount_kg;
        self.outcome.bait_by_recipe_kg[feed.recipe] += amount_kg;
        let recipe = &self.scenario.recipes[feed.recipe];
        let depth_m = self.swims[feed.line].depth_m;
        let falling =
            Falling::of(recipe, amount_kg, depth_m, self.scenario.session_s, &self.day.fluid);
        self.fines_hang(feed.line, falling.hanging_kg, recipe.attractant_mol_kg);
        self.throws.push(Throw {
            falling,
            attractant_mol_kg: recipe.attractant_mol_kg,
            mouthful_kg: recipe.mouthful_kg,
            down: false,
        });
        let throw = (self.throws.len() - 1) as u32;
        let lands = self.now.after(falling.fall_s);
        agenda.enter(lands, rank::BAIT, Event::FeedReachesBed { line: feed.line, throw });
        self.patter(feed.line, amount_kg, falling.food_kg / recipe.mouthful_kg, agenda);
    }

    /// The rig hits the water and sinks.
    pub(super) fn rig_is_cast(&mut self, cast: u32, line: usize, agenda: &mut Agenda<Event>) {
        self.show(Event::RigIsCast { cast, line });
        self.outcome.casts += 1;
        self.rod.cast = cast;
        let swim_at = self.swims[line].at;
        let landing = cast_at(swim_at, &self.scenario.chart, &self.day.angler, &mut self.cast_dice);
        let recipe = &self.scenario.recipes[self.rod.recipe];
        let pressed_kg = self.rod.pressed_kg;
        self.outcome.bait.feeder_kg += pressed_kg;
        self.outcome.bait_by_recipe_kg[self.rod.recipe] += pressed_kg;
        let depth_m = self.scenario.chart.depth_m(landing.at);
        let sorted =
            Falling::of(recipe, pressed_kg, depth_m, self.scenario.session_s, &self.day.fluid);
        self.rod.load = Load {
            food_kg: sorted.food_kg,
            inert_kg: sorted.inert_kg,
            hanging_kg: sorted.hanging_kg,
            mouthful_kg: recipe.mouthful_kg,
            attractant_mol_kg: recipe.attractant_mol_kg,
        };
        let washed = self.rod.load.part(self.day.bait.cast_wash_share);
        self.outcome.bait.lost_kg += washed.mass_kg();
        let style = if self.rod.buried { LoadStyle::Buried } else { LoadStyle::Top };
        let opening =
            Opening::draw(recipe, style, self.rod.squeeze, &self.day.bait, &mut self.bait_dice);
        self.rod.opening = Some(opening);
        self.rod.landed_at = landing.at;
        self.splash(line, landing.at, self.rod.feeder_kg + pressed_kg, agenda);
        if landing.snagged || landing.short {
            self.fumbled(landing.snagged, agenda);
            return;
        }
        self.rod.rig = RigAt::Sinking;
        self.rod.hook = HookIs::Hidden;
        self.rod.recast_at = self.now.after(self.rod.recast_s);
        let sinks_s = depth_m / self.day.angler.sink_m_s;
        agenda.enter(self.now.after(sinks_s), rank::BAIT, Event::FeederLands { cast });
    }

    /// A cast that snagged or fell short is dealt with at once; its load is lost.
    fn fumbled(&mut self, snagged: bool, agenda: &mut Agenda<Event>) {
        self.outcome.bait.lost_kg += std::mem::take(&mut self.rod.load).mass_kg();
        self.rod.rig = RigAt::Ashore;
        if snagged {
            self.outcome.swim.snags += 1;
            let takes_s = self.hand_time_s(self.day.angler.snag_s);
            self.take_up(Activity::Other, Step::Decide, takes_s, agenda);
        } else {
            let takes_s = self.wind_in_time_s();
            self.take_up(Activity::Casting, Step::Decide, takes_s, agenda);
        }
    }

    /// The feeder reaches the bed: the wait begins.
    pub(super) fn feeder_lands(&mut self, cast: u32, agenda: &mut Agenda<Event>) {
        if self.rod.cast != cast || self.rod.rig != RigAt::Sinking {
            return;
        }
        self.show(Event::FeederLands { cast });
        self.count_presence();
        self.rod.rig = RigAt::Bed;
        let pressed_kg = self.rod.pressed_kg;
        let swim = &mut self.swims[self.rod.line];
        if pressed_kg > 0.0 {
            swim.pile.area_m2 = pile_area_m2(pressed_kg, self.day);
        }
        let opening = self.rod.opening.expect("every cast draws an opening");
        if pressed_kg > 0.0 {
            let opens = self.now.after(opening.starts_s);
            let down = self.now.after(opening.down_s);
            agenda.enter(opens, rank::BAIT, Event::LoadOpens { cast });
            agenda.enter(down, rank::BAIT, Event::LoadIsDown { cast });
        } else {
            self.hookbait_shows(HookIs::InScatter, agenda);
            self.search_anew(self.rod.line, agenda);
        }
        agenda.enter(self.rod.recast_at.max(self.now), rank::HANDS, Event::RigIsWoundIn { cast });
        self.awaits_bite(cast, agenda);
        self.take_up(Activity::Waiting, Step::Decide, f64::INFINITY, agenda);
        self.leave_other_line(agenda);
        if self.rod.bait_in_water() {
            self.throw_next(agenda);
        }
    }

    /// The longest wait of a cast is over.
    pub(super) fn rig_is_wound_in(&mut self, cast: u32, agenda: &mut Agenda<Event>) {
        if self.rod.fishes(cast) {
            self.wind_in_when_free(cast, agenda);
        }
    }

    /// Winds in now, or as soon as the handful in hand is thrown.
    fn wind_in_when_free(&mut self, cast: u32, agenda: &mut Agenda<Event>) {
        if self.rod.fishes(cast) && self.hands.activity == Activity::Waiting {
            self.wind_in(agenda);
        } else {
            self.rod.recast_at = self.rod.recast_at.min(self.now);
        }
    }

    /// Takes the rig out of the water.
    pub(super) fn wind_in(&mut self, agenda: &mut Agenda<Event>) {
        self.show(Event::RigIsWoundIn { cast: self.rod.cast });
        if let Some(fish) = self.fouled_in_passing() {
            self.fish_is_hooked(fish, Hold::Outside, agenda);
            return;
        }
        self.rig_leaves_bed(RigAt::Ashore, agenda);
        let takes_s = self.wind_in_time_s();
        self.take_up(Activity::Casting, Step::Decide, takes_s, agenda);
    }

    /// The rig leaves the bed: what is left of the load is lost, its pile is levelled.
    pub(super) fn rig_leaves_bed(&mut self, to: RigAt, agenda: &mut Agenda<Event>) {
        self.count_presence();
        self.rod.rig = to;
        self.rod.hook = HookIs::Bare;
        self.outcome.bait.lost_kg += std::mem::take(&mut self.rod.load).mass_kg();
        self.swims[self.rod.line].level_pile();
        self.search_anew(self.rod.line, agenda);
    }

    fn wind_in_time_s(&mut self) -> f64 {
        let distance_m = self.rod.landed_at.distance_m(Point::default()).max(NEAREST_CAST_M);
        self.hand_time_s(distance_m / self.day.angler.wind_in_m_s)
    }

    /// The session ends: a fish still on is landed or lost at the whistle.
    pub(super) fn session_ends(&mut self) {
        if let RigAt::Fish(fish, _) = self.rod.rig {
            self.last_fish(fish);
        }
        self.count_presence();
        self.book_time();
        let mut lost_kg = 0.0;
        for swim in &mut self.swims {
            lost_kg += swim.lose_until(self.now, self.day);
        }
        let bait = &mut self.outcome.bait;
        bait.lost_kg += lost_kg;
        bait.on_bed_kg = self.swims.iter().map(Swim::on_bed_kg).sum();
        bait.hanging_kg = self.swims.iter().map(Swim::hanging_kg).sum::<f64>()
            + self.throws.iter().map(Throw::still_falling_kg).sum::<f64>();
        bait.on_feeder_kg = self.rod.load.mass_kg();
        self.show(Event::SessionEnds);
    }
}
