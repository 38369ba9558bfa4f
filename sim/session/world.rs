//! All that exists during one session, and what must always be true of it.

use super::day::{Day, Purpose};
use super::event::Event;
use super::lawful::Lawful;
use super::outcome::{Outcome, ShoalCatch};
use super::react_events::Eyes;
use super::rod::{Hands, Rod};
use super::swim::{Swim, Throw};
use crate::angler::{Phase, Plan};
use crate::engine::{Agenda, Dice, Time, Watch};
use crate::fish::{Fish, State, gut_rate_per_h};
use crate::scenario::Scenario;

/// Ranks of events at equal times: hands first, then bait, then fish, the end last.
pub(super) mod rank {
    pub(in crate::session) const HANDS: u8 = 0;
    pub(in crate::session) const BAIT: u8 = 1;
    pub(in crate::session) const FISH: u8 = 2;
    pub(in crate::session) const END: u8 = 255;
}

/// One plan being fished on one day.
pub(super) struct World<'a, W> {
    pub(super) scenario: &'a Scenario,
    pub(super) plan: &'a Plan,
    pub(super) day: &'a Day,
    pub(super) watch: &'a mut W,
    pub(super) now: Time,
    pub(super) end: Time,
    pub(super) fish: Vec<Fish>,
    pub(super) swims: Vec<Swim>,
    pub(super) throws: Vec<Throw>,
    pub(super) rod: Rod,
    pub(super) hands: Hands,
    pub(super) eyes: Eyes,
    pub(super) cast_dice: Dice,
    pub(super) bait_dice: Dice,
    pub(super) hands_dice: Dice,
    pub(super) fight_dice: Dice,
    pub(super) foul_dice: Dice,
    /// Rate at which guts empty today [1/s].
    pub(super) gut_rate_per_s: f64,
    /// Until when presence on the fished line has been added up.
    pub(super) counted_until: Time,
    pub(super) outcome: Outcome,
    /// What bites go by instead of fish that find the hookbait, where a law was given.
    pub(super) law: Option<Lawful<'a>>,
}

impl<'a, W: Watch<Event>> World<'a, W> {
    /// The world at the start of a session.
    pub(super) fn new(
        scenario: &'a Scenario,
        plan: &'a Plan,
        day: &'a Day,
        watch: &'a mut W,
    ) -> Self {
        let of = |purpose| day.stream(purpose);
        Self {
            scenario,
            plan,
            day,
            watch,
            now: Time::ZERO,
            end: Time::from_seconds(scenario.session_s),
            fish: day.stock.clone(),
            swims: scenario.lines.iter().map(|line| Swim::new(line.at, scenario, day)).collect(),
            throws: Vec::new(),
            rod: Rod::ashore(),
            hands: Hands::free(),
            eyes: Self::eyes_open(scenario, plan, day),
            cast_dice: of(Purpose::Cast),
            bait_dice: of(Purpose::Bait),
            hands_dice: of(Purpose::Hands),
            fight_dice: of(Purpose::Fight),
            foul_dice: of(Purpose::Foul),
            gut_rate_per_s: gut_rate_per_h(day.conditions.temperature_c, &day.fish) / 3600.0,
            counted_until: Time::ZERO,
            outcome: Outcome {
                by_shoal: vec![ShoalCatch::default(); scenario.shoals.len()],
                bait_by_recipe_kg: vec![0.0; scenario.recipes.len()],
                ..Outcome::default()
            },
            law: None,
        }
    }

    /// Enters what the start of a session sets going.
    pub(super) fn begin(&mut self, agenda: &mut Agenda<Event>) {
        for (phase, plan) in self.plan.phases.iter().enumerate() {
            let at = Time::from_seconds(plan.from_s);
            agenda.enter(at, rank::HANDS, Event::PhaseBegins { phase });
            let ends = Time::from_seconds(plan.until_s);
            let next = self.plan.phases.get(phase + 1).map(|next| Time::from_seconds(next.from_s));
            if next != Some(ends) && ends < self.end {
                agenda.enter(ends, rank::HANDS, Event::PhaseEnds { phase });
            }
        }
        // Under a law of bites fish rest until they are hooked; nothing else moves them.
        if self.law.is_some() {
            self.fish.iter_mut().for_each(|fish| fish.state = State::Resting);
        }
        let swimming = if self.law.is_some() { 0 } else { self.fish.len() };
        for fish in 0..swimming {
            self.swim_on(fish, agenda);
        }
        agenda.enter(self.end, rank::END, Event::SessionEnds);
    }

    /// Lets the watcher see something that took effect.
    #[inline]
    pub(super) fn show(&mut self, event: Event) {
        if self.has_rules() {
            self.perceive(event);
        }
        self.watch.sees(self.now, event);
    }

    /// What the plan has the angler do now, with what rules changed, if anything.
    pub(super) fn phase(&self) -> Option<&Phase> {
        self.hands.chosen.as_ref()
    }

    /// Adds up presence on the fished line until now; called before anything of it changes.
    pub(super) fn count_presence(&mut self) {
        let elapsed_s = self.now.seconds_since(self.counted_until);
        self.counted_until = self.now;
        if !self.rod.bait_in_water() || elapsed_s <= 0.0 {
            return;
        }
        let swim = &self.swims[self.rod.line];
        let seen = &mut self.outcome.swim;
        seen.bait_in_water_s += elapsed_s;
        seen.fish_on_line_s += elapsed_s * swim.below.len() as f64;
        seen.fish_up_s += elapsed_s * swim.up.len() as f64;
        if self.rod.hookbait_there() {
            seen.hookbait_fishing_s += elapsed_s;
        }
    }

    /// Walks what must always be true; only in debug builds.
    ///
    /// Bait thrown is on the bed, hanging, falling, on the feeder, eaten or lost; every fish is in one
    /// place; fish kept are fish landed; nobody is on land.
    pub(super) fn check(&self) {
        let bait = &self.outcome.bait;
        let thrown_kg = bait.feeder_kg + bait.loose_kg;
        let swims_kg: f64 =
            self.swims.iter().map(|swim| swim.on_bed_kg() + swim.hanging_kg()).sum();
        let falling_kg: f64 = self.throws.iter().map(Throw::still_falling_kg).sum();
        let there_kg =
            swims_kg + falling_kg + self.rod.load.mass_kg() + bait.eaten_kg + bait.lost_kg;
        assert!(
            (thrown_kg - there_kg).abs() < 1e-9 * (1.0 + thrown_kg),
            "bait thrown {thrown_kg} kg, accounted for {there_kg} kg"
        );
        let at_lines: usize = self.swims.iter().map(|swim| swim.below.len() + swim.up.len()).sum();
        let feeding =
            self.fish.iter().filter(|fish| matches!(fish.state, State::Feeding(..))).count();
        assert_eq!(at_lines, feeding, "each feeding fish is at one line");
        let kept = self.fish.iter().filter(|fish| fish.state == State::Kept).count();
        let rested = self.outcome.catches.len() - kept;
        assert!(rested == 0 || self.scenario.kind == crate::scenario::SessionKind::Pleasure);
        // A leg along the bank may round to a hair outside.
        let on_land = self.fish.iter().find(|fish| {
            let at = fish.leg.at(self.now);
            at.distance_m(self.scenario.chart.clamp(at)) > 1e-9
        });
        assert!(on_land.is_none(), "a fish is on land: {on_land:?}");
    }
}
