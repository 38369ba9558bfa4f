//! Records a session while it is fished.
//!
//! The recorder compares the world before and after each event and changes nothing. A session that is not recorded
//! pays nothing for it.

use std::sync::atomic::{AtomicBool, Ordering};

use super::recording::{
    BaitState, FishMove, LineRecording, LooseFeedThrow, MoveReason, Recording, Release, TackleState,
};
use crate::angler::Plan;
use crate::bait::ReleasedScent;
use crate::engine::{Agenda, EventLog, Process, Time, run};
use crate::fish::{FishId, FishState, Leg};
use crate::scenario::Scenario;
use crate::session::day::Day;
use crate::session::event::Event;
use crate::session::swim::Swim;
use crate::session::world::World;
use crate::water::LineId;

/// Smallest share by which bait on the bed must have changed to be recorded again.
const MIN_BED_CHANGE: f64 = 0.02;
/// Mass of hanging or lying matter that counts as zero [kg].
const ZERO_KG: f64 = 1e-5;
/// Amount of released scent that counts as zero [mol].
const ZERO_MOL: f64 = 1e-9;

/// Fishes one plan on one day and records it; `None` if the recording has more than `max_rows` rows.
///
/// Its outcome is that of [`run_session`](crate::session::run_session).
#[must_use]
pub fn record_session(
    scenario: &Scenario,
    plan: &Plan,
    day: &Day,
    max_rows: usize,
) -> Option<Recording> {
    record_session_unless(scenario, plan, day, max_rows, &AtomicBool::new(false))
}

/// As [`record_session`]; ends early, without a recording, as soon as `stop` is set.
#[must_use]
pub fn record_session_unless(
    scenario: &Scenario,
    plan: &Plan,
    day: &Day,
    max_rows: usize,
    stop: &AtomicBool,
) -> Option<Recording> {
    let mut log = EventLog::default();
    let mut world = World::new(scenario, plan, day, &mut log);
    world.start();
    let mut recorder = Recorder::new(world, max_rows, stop);
    recorder.sample(None);
    let end = recorder.world.end;
    let handled = run(&mut recorder, end);
    recorder.add_unfinished_puffs();
    let Recorder { world, mut recording, full, .. } = recorder;
    recording.outcome = world.outcome;
    recording.outcome.swim.events = handled;
    (!full).then_some(recording)
}

/// What is remembered of a fish between two samples.
#[derive(Clone, Debug, Default)]
struct FishSample {
    /// The last leg of its way, and its state.
    seen: Option<(Leg, FishState)>,
    /// Moves along its way that it has not begun yet, in the order of time.
    planned: Vec<FishMove>,
}

struct Recorder<'a> {
    world: World<'a, EventLog<Event>>,
    recording: Recording,
    last: Vec<FishSample>,
    /// Scent released at each line in whole puffs, and when the current puff began.
    scent: Vec<(ReleasedScent, Option<Time>)>,
    max_rows: usize,
    /// Whether there is no recording, since it was stopped or too much happened.
    full: bool,
    stop: &'a AtomicBool,
}

impl Process for Recorder<'_> {
    type Event = Event;

    fn agenda(&mut self) -> &mut Agenda<Event> {
        self.world.agenda()
    }

    fn handle(&mut self, now: Time, event: Event) {
        self.world.handle(now, event);
        if self.full || self.stop.load(Ordering::Relaxed) {
            self.full = true;
            // Nobody will see what follows, so nothing follows.
            let end = self.world.end;
            while self.world.agenda().pop_until(end).is_some() {}
            return;
        }
        self.sample(Some(event));
        self.full = self.recording.rows() > self.max_rows;
    }
}

impl<'a> Recorder<'a> {
    fn new(world: World<'a, EventLog<Event>>, max_rows: usize, stop: &'a AtomicBool) -> Self {
        let line = |swim: &Swim| LineRecording {
            flow_m_s: swim.plume.water().flow_m_s,
            diffusivity_m2_s: swim.plume.water().diffusivity_m2_s,
            loss_per_s: swim.plume.water().loss_per_s,
            layer_m: swim.plume.water().layer_m,
            ..LineRecording::default()
        };
        let recording =
            Recording { lines: world.swims.iter().map(line).collect(), ..Recording::default() };
        let (fish, lines) = (world.fish.len(), world.swims.len());
        Self {
            world,
            recording,
            last: vec![FishSample::default(); fish],
            scent: vec![(ReleasedScent::default(), None); lines],
            max_rows,
            full: false,
            stop,
        }
    }

    /// Records what has changed since the last sample; `cause` is the event that was handled.
    fn sample(&mut self, cause: Option<Event>) {
        let shown: Vec<Event> =
            self.world.observer.events.drain(..).map(|(_, event)| event).collect();
        let at_s = self.world.now.seconds();
        self.sample_fish(at_s, cause, &shown);
        self.sample_tackle(at_s);
        self.sample_handfuls(at_s, &shown);
        for line in LineId::all(self.world.swims.len()) {
            self.sample_line(at_s, line);
        }
        self.recording.events.extend(shown.into_iter().map(|event| (at_s, event)));
    }

    /// Adds the puffs that bait has begun to release when the session ends.
    fn add_unfinished_puffs(&mut self) {
        let now = self.world.now;
        for (swim, recording) in self.world.swims.iter().zip(&mut self.recording.lines) {
            if let Some((since, amount_mol)) = swim.plume.puff_in_progress(now) {
                let (from_s, at_s) = (since.seconds(), now.seconds());
                recording.releases.push(Release { from_s, at_s, amount_mol });
            }
        }
    }

    fn sample_fish(&mut self, at_s: f64, cause: Option<Event>, shown: &[Event]) {
        for index in FishId::all(self.last.len()) {
            let sample = &mut self.last[index.0];
            let begun = sample.planned.iter().take_while(|next| next.at_s <= at_s).count();
            self.recording.moves.extend(sample.planned.drain(..begun));
            let fish = &self.world.fish[index];
            let current = (*fish.way.last(), fish.state);
            if sample.seen == Some(current) {
                continue;
            }
            let before = sample.seen.replace(current).map(|(_, state)| state);
            let reason = self.reason(index, before, cause, shown);
            let fish = &self.world.fish[index];
            let leg = fish.way.leg(self.world.now);
            let from = leg.position(self.world.now);
            let ends_s = leg.ends.seconds().max(at_s);
            let (state, hunger) = (fish.state, fish.appetite.hunger());
            let first =
                FishMove { at_s, fish: index, from, to: leg.to, ends_s, state, hunger, reason };
            self.recording.moves.push(first);
            let planned = fish.way.legs_after(self.world.now).map(|leg| FishMove {
                at_s: leg.begins.seconds(),
                from: leg.from,
                to: leg.to,
                ends_s: leg.ends.seconds(),
                reason: MoveReason::OwnWay,
                ..first
            });
            self.last[index.0].planned = planned.collect();
        }
    }

    /// Why a fish does something else now than before.
    fn reason(
        &self,
        index: FishId,
        before: Option<FishState>,
        cause: Option<Event>,
        shown: &[Event],
    ) -> MoveReason {
        let splash = matches!(cause, Some(Event::RigIsCast { .. }));
        let patter = shown.iter().any(|event| matches!(event, Event::LooseFeedThrown { .. }));
        match self.world.fish[index].state {
            FishState::Approaching(line) if matches!(cause, Some(Event::FishLooks { .. })) => {
                self.noticed(index, line)
            }
            FishState::Approaching(_) if splash => MoveReason::Splash,
            FishState::Approaching(_) if patter => MoveReason::Patter,
            FishState::Fled if before == Some(FishState::Hooked) => MoveReason::Hook,
            FishState::Fled if splash => MoveReason::Splash,
            FishState::Fled if patter => MoveReason::Patter,
            FishState::Fled => {
                let took = |event: &Event| matches!(*event, Event::FishTakes { fish, .. } if fish == index);
                if shown.iter().any(took) { MoveReason::Hook } else { MoveReason::Fight }
            }
            _ => {
                let left = shown.iter().find_map(|event| match *event {
                    Event::FishLeaves { fish, why, .. } if fish == index => Some(why),
                    _ => None,
                });
                left.map_or(MoveReason::OwnWay, MoveReason::Left)
            }
        }
    }

    /// What a fish that looked round noticed of a line: the stronger of two cues.
    fn noticed(&self, fish: FishId, line: LineId) -> MoveReason {
        let place = self.world.fish[fish].way.last().from;
        let cues = self.world.swims[line].cues(place, self.world.now, self.world.day);
        if cues.company > cues.scent {
            MoveReason::Company(cues.company)
        } else {
            MoveReason::Scent(cues.scent)
        }
    }

    fn sample_tackle(&mut self, at_s: f64) {
        let rod = &self.world.rod;
        let current = TackleState {
            at_s,
            cast: rod.cast,
            line: rod.tackle.line,
            place: rod.landed_at,
            rig: rod.rig,
            hook: rod.hook,
            activity: self.world.angler.activity,
        };
        let last = self.recording.tackle.last();
        if last.is_none_or(|last| *last != TackleState { at_s: last.at_s, ..current }) {
            self.recording.tackle.push(current);
        }
    }

    fn sample_handfuls(&mut self, at_s: f64, shown: &[Event]) {
        for event in shown {
            if let (Event::LooseFeedThrown { line, mass_kg }, Some(throw)) =
                (*event, self.world.throws.last())
            {
                let fall_s = throw.falling.fall_s;
                self.recording.handfuls.push(LooseFeedThrow { at_s, line, mass_kg, fall_s });
            }
        }
    }

    fn sample_line(&mut self, at_s: f64, line: LineId) {
        let (now, swim) = (self.world.now, &self.world.swims[line]);
        let recording = &mut self.recording.lines[line.0];
        let (before, since) = self.scent[line.0];
        let released = swim.plume.released();
        // Fines release their scent at once, bait on the bed since its last puff.
        let began_s = since.map_or(at_s, Time::seconds);
        for (from_s, amount_mol) in [
            (at_s, released.at_once_mol - before.at_once_mol),
            (began_s, released.steadily_mol - before.steadily_mol),
        ] {
            if amount_mol > ZERO_MOL {
                recording.releases.push(Release { from_s, at_s, amount_mol });
            }
        }
        self.scent[line.0] = (released, swim.plume.puff_in_progress(now).map(|(since, _)| since));
        let bait = BaitState {
            at_s,
            pile_kg: swim.pile.food_kg,
            scatter_kg: swim.scatter.food_kg,
            hanging_kg: swim.hanging_kg(),
        };
        let differs = |a: f64, b: f64| (a - b).abs() > (MIN_BED_CHANGE * a.max(b)).max(ZERO_KG);
        let changed = recording.bait.last().is_none_or(|last| {
            differs(last.pile_kg, bait.pile_kg)
                || differs(last.scatter_kg, bait.scatter_kg)
                || differs(last.hanging_kg, bait.hanging_kg)
        });
        if changed {
            recording.bait.push(bait);
        }
    }
}
