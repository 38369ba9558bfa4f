//! Everything that exists during one session, and the invariants it must keep.

use super::angler_state::AnglerState;
use super::day::Day;
use super::event::Event;
use super::outcome::{Outcome, ShoalCatch};
use super::perception::Perception;
use super::rod::Rod;
use super::streams::Purpose;
use super::swim::{Swim, Throw};
use super::waiting_time::WaitingTimes;
use crate::angler::{HookPosition, Phase, Plan};
use crate::engine::{Agenda, Dice, Observer, Time};
use crate::fish::{Fish, FishId, FishState, goes_in_spite_of, gut_rate_per_h};
use crate::scenario::{Scenario, SessionKind};
use crate::water::{Line, LineId};

/// Ranks of events at equal times: the angler first, then bait, then fish, the end last.
pub(super) mod rank {
    pub(in crate::session) const ANGLER: u8 = 0;
    pub(in crate::session) const BAIT: u8 = 1;
    pub(in crate::session) const FISH: u8 = 2;
    pub(in crate::session) const END: u8 = 255;
}

/// Random streams of the session itself; each fish has its own.
#[derive(Clone, Debug)]
pub(super) struct SessionDice {
    pub(super) cast: Dice,
    pub(super) bait: Dice,
    pub(super) hands: Dice,
    pub(super) fight: Dice,
    pub(super) foul_hooking: Dice,
}

impl SessionDice {
    /// The streams by their purpose.
    pub(super) fn new(stream: impl Fn(Purpose) -> Dice) -> Self {
        Self {
            cast: stream(Purpose::Cast),
            bait: stream(Purpose::Bait),
            hands: stream(Purpose::Hands),
            fight: stream(Purpose::Fight),
            foul_hooking: stream(Purpose::FoulHooking),
        }
    }
}

/// One plan being fished on one day.
pub(super) struct World<'a, W> {
    pub(super) scenario: &'a Scenario,
    pub(super) plan: &'a Plan,
    pub(super) day: &'a Day,
    pub(super) observer: &'a mut W,
    pub(super) agenda: Agenda<Event>,
    pub(super) now: Time,
    pub(super) end: Time,
    pub(super) fish: Vec<Fish>,
    pub(super) swims: Vec<Swim>,
    pub(super) throws: Vec<Throw>,
    pub(super) rod: Rod,
    pub(super) angler: AnglerState,
    pub(super) perception: Perception,
    pub(super) dice: SessionDice,
    /// Greatest chance of each shoal that a fish keen to feed notices a line and dares to go there.
    pub(super) notice_bounds: Vec<f64>,
    /// Rate at which guts empty on this day [1/s].
    pub(super) gut_rate_per_s: f64,
    /// Until when presence on the fished line has been added up.
    pub(super) presence_until: Time,
    pub(super) outcome: Outcome,
    /// Given waiting times of bites, in place of fish that find the hookbait.
    pub(super) waiting_times: Option<WaitingTimes<'a>>,
}

impl<'a, W: Observer<Event>> World<'a, W> {
    /// The world at the start of a session.
    pub(super) fn new(
        scenario: &'a Scenario,
        plan: &'a Plan,
        day: &'a Day,
        observer: &'a mut W,
    ) -> Self {
        let at_start = plan.phases.iter().filter(|phase| phase.from_s <= 0.0);
        let swim = |(index, line): (usize, &Line)| {
            let is_used = at_start.clone().any(|phase| phase.uses(LineId(index)));
            Swim::new(line.at, is_used, scenario, day)
        };
        let swims: Vec<Swim> = scenario.lines.iter().enumerate().map(swim).collect();
        Self {
            scenario,
            plan,
            day,
            observer,
            notice_bounds: notice_bounds(&swims, scenario, day),
            agenda: Agenda::new(),
            now: Time::ZERO,
            end: Time::from_seconds(scenario.session_s),
            fish: day.stock.clone(),
            swims,
            throws: Vec::new(),
            rod: Rod::new(),
            angler: AnglerState::new(),
            perception: Perception::new(scenario, plan, day),
            dice: SessionDice::new(|purpose| day.stream(purpose)),
            gut_rate_per_s: gut_rate_per_h(day.conditions.temperature_c, &day.fish) / 3600.0,
            presence_until: Time::ZERO,
            outcome: Outcome {
                by_shoal: vec![ShoalCatch::default(); scenario.shoals.len()],
                bait_by_recipe_kg: vec![0.0; scenario.recipes.len()],
                ..Outcome::default()
            },
            waiting_times: None,
        }
    }

    /// Schedules an event of a fish, the only one that will be current: it voids the fish's earlier events.
    pub(super) fn schedule_fish(
        &mut self,
        fish: FishId,
        at: Time,
        event: impl FnOnce(FishId, u32) -> Event,
    ) {
        let generation = self.fish[fish].next_generation();
        self.agenda.schedule(at, rank::FISH, event(fish, generation));
    }

    /// Whether a fish's event is still current, and fish move at all.
    pub(super) fn is_current(&self, fish: FishId, generation: u32) -> bool {
        self.fish[fish].generation == generation && self.waiting_times.is_none()
    }

    /// Shows an event that took effect to the angler, as far as it can be perceived, and to the observer.
    #[inline]
    pub(super) fn announce(&mut self, event: Event) {
        if self.has_rules() {
            self.perceive(event);
        }
        self.observer.observe(self.now, event);
    }

    /// Whether the plan has rules, so that perception can change it.
    pub(super) fn has_rules(&self) -> bool {
        !self.plan.rules.list.is_empty()
    }

    /// Takes in what can be perceived from the bank.
    fn perceive(&mut self, event: Event) {
        let now_s = self.now.seconds();
        match event {
            Event::FishTakes { .. } => self.perception.seen.add_bite(now_s),
            Event::FishShows { line, .. } => self.perception.seen.add_show(line, now_s),
            Event::LineIsTouched { .. } => self.perception.seen.add_line_bite(now_s),
            Event::FishIsFoulHooked { .. } => self.perception.foul_hook(),
            Event::FishIsHooked { .. } => self.perception.hook(),
            Event::FishIsLost { .. } => {
                self.perception.seen.add_lost(self.rod.tackle.line, now_s);
            }
            Event::FishIsNetted { fish } => {
                let line = self.rod.tackle.line;
                if self.rod.hold() == HookPosition::Outside {
                    self.perception.seen.add_foul_hooked(line, now_s);
                }
                if self.hooked_fish_counts() {
                    let spread_ln = self.day.angler.guess_spread_ln;
                    self.perception.net(line, now_s, self.fish[fish].mass_kg(), spread_ln);
                }
            }
            _ => return,
        }
        self.perception.is_new = true;
    }

    /// Whether the fish on the rod will count, by the rules of the water.
    pub(super) fn hooked_fish_counts(&self) -> bool {
        self.rod.hold() == HookPosition::Mouth || self.scenario.foul_hooked_counts
    }

    /// What the plan does now, with the changes of its rules; `None` while it does nothing.
    pub(super) fn chosen_phase(&self) -> Option<&Phase> {
        self.angler.chosen.as_ref()
    }

    /// Adds up presence on the fished line until now; called before any of it changes.
    pub(super) fn count_presence(&mut self) {
        let elapsed_s = self.now.seconds_since(self.presence_until);
        self.presence_until = self.now;
        if !self.rod.bait_in_water() || elapsed_s <= 0.0 {
            return;
        }
        let swim = &self.swims[self.rod.tackle.line];
        let seen = &mut self.outcome.swim;
        seen.bait_in_water_s += elapsed_s;
        seen.fish_on_line_s += elapsed_s * swim.below.len() as f64;
        seen.fish_up_s += elapsed_s * swim.up.len() as f64;
        if self.rod.hookbait_available() {
            seen.hookbait_fishing_s += elapsed_s;
        }
    }

    /// Checks the invariants; called in debug builds only.
    ///
    /// All bait thrown is on the bed, hanging, falling, on the feeder, eaten or lost. Every feeding fish is at one
    /// line. Every fish kept was landed. No fish is on land.
    pub(super) fn check(&self) {
        let bait = &self.outcome.bait;
        let thrown_kg = bait.feeder_kg + bait.loose_kg;
        let swims_kg: f64 =
            self.swims.iter().map(|swim| swim.on_bed_kg() + swim.hanging_kg()).sum();
        let falling_kg: f64 = self.throws.iter().map(Throw::still_falling_kg).sum();
        let accounted_kg =
            swims_kg + falling_kg + self.rod.load.mass_kg() + bait.eaten_kg + bait.lost_kg;
        assert!(
            (thrown_kg - accounted_kg).abs() < 1e-9 * (1.0 + thrown_kg),
            "bait thrown {thrown_kg} kg, accounted for {accounted_kg} kg"
        );
        let at_lines: usize = self.swims.iter().map(|swim| swim.below.len() + swim.up.len()).sum();
        let feeding =
            self.fish.iter().filter(|fish| matches!(fish.state, FishState::Feeding(..))).count();
        assert_eq!(at_lines, feeding, "each feeding fish is at one line");
        let kept = self.fish.iter().filter(|fish| fish.state == FishState::Kept).count();
        let returned = self.outcome.catches.len() - kept;
        assert!(returned == 0 || self.scenario.kind == SessionKind::Pleasure);
        // A leg along the bank may be outside by a rounding error.
        let on_land = self.fish.iter().find(|fish| {
            let at = fish.way.position(self.now);
            at.distance_m(self.scenario.chart.clamp(at)) > 1e-9
        });
        assert!(on_land.is_none(), "a fish is on land: {on_land:?}");
    }
}

/// Greatest chance in the session that a keen fish of each shoal notices a line and dares to go there.
///
/// It notices each line by a chance of at most 1, and dares as if it were as dark as at any time of the session.
pub(super) fn notice_bounds(swims: &[Swim], scenario: &Scenario, day: &Day) -> Vec<f64> {
    let bound = |shoal: usize| {
        let Some(fish) = day.stock.iter().find(|fish| fish.shoal == shoal) else { return 0.0 };
        let stays = |swim: &Swim| 1.0 - goes_in_spite_of(swim.min_risk(fish.habitual_cover_m, day));
        1.0 - swims.iter().filter(|swim| swim.is_used).map(stays).product::<f64>()
    };
    (0..scenario.shoals.len()).map(bound).collect()
}
