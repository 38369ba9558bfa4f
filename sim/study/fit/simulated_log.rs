//! A simulated session as the angler would write it down.

use crate::angler::Plan;
use crate::catch_log::{CastEnd, EndKind, LoggedCast, LoggedCatch, LoggedSession};
use crate::engine::{Observer, Time};
use crate::scenario::Scenario;
use crate::session::{Day, Event, observe_session};

/// Fishes one plan on one day and writes down its casts; `start_s` is the log's time at the start [s], and times are
/// rounded to multiples of `time_unit_s` [s].
///
/// A cast that snags or falls short is not written down: it is made again at once.
#[must_use]
pub fn simulated_session(
    scenario: &Scenario,
    plan: &Plan,
    day: &Day,
    start_s: f64,
    time_unit_s: f64,
) -> LoggedSession {
    let mut writer = LogWriter::new(scenario, plan, day, start_s, time_unit_s);
    observe_session(scenario, plan, day, &mut writer);
    writer.into_session(scenario.session_s)
}

/// The clock by which a log is written.
#[derive(Clone, Copy)]
struct LogClock {
    start_s: f64,
    unit_s: f64,
}

impl LogClock {
    fn at(self, since_s: f64) -> f64 {
        ((self.start_s + since_s) / self.unit_s).floor() * self.unit_s
    }
}

/// An observer that writes down what an angler sees of a session.
pub(in crate::study) struct LogWriter<'a> {
    scenario: &'a Scenario,
    plan: &'a Plan,
    day: &'a Day,
    clock: LogClock,
    casts: Vec<LoggedCast>,
    /// Whether the feeder of the last cast reached the bed.
    is_on_bed: bool,
}

impl<'a> LogWriter<'a> {
    pub(in crate::study) fn new(
        scenario: &'a Scenario,
        plan: &'a Plan,
        day: &'a Day,
        start_s: f64,
        time_unit_s: f64,
    ) -> Self {
        let clock = LogClock { start_s, unit_s: time_unit_s.max(1e-3) };
        Self { scenario, day, plan, clock, casts: Vec::new(), is_on_bed: false }
    }

    /// The session up to a time since its start [s], at which a bait that is still out is wound in.
    pub(in crate::study) fn into_session(mut self, until_s: f64) -> LoggedSession {
        self.drop_failed();
        self.end_cast(EndKind::WoundIn, until_s);
        LoggedSession { name: self.plan.name.clone(), date: None, casts: self.casts }
    }

    fn cast(&mut self, line: usize, now_s: f64) {
        self.drop_failed();
        self.is_on_bed = false;
        let phases = self.plan.phases.iter();
        let tackle = phases.rev().find(|phase| phase.from_s <= now_s).map(|phase| phase.tackle);
        let bait = tackle.and_then(|tackle| self.scenario.hookbaits.get(tackle.hookbait.0));
        self.casts.push(LoggedCast {
            row: self.casts.len() + 2,
            cast_s: self.clock.at(now_s),
            line: self.scenario.lines[line].name.clone(),
            bait: bait.map_or_else(String::new, |bait| bait.name.clone()),
            feeder_kg: tackle.map(|tackle| tackle.load_kg),
            loose_feed_kg: None,
            end_tackle: tackle.map(|tackle| tackle.end).unwrap_or_default(),
            end: None,
            note: String::new(),
        });
    }

    /// Leaves out the last cast if it never fished.
    fn drop_failed(&mut self) {
        if !self.is_on_bed && self.casts.last().is_some_and(|cast| cast.end.is_none()) {
            self.casts.pop();
        }
    }

    fn end_cast(&mut self, kind: EndKind, now_s: f64) {
        let at_s = self.clock.at(now_s);
        let Some(cast) = self.casts.last_mut() else { return };
        let is_bite = kind == EndKind::Bite;
        // A rig that is wound in may hook a fish outside its mouth: that is a bite.
        let was_bite = cast.has_bite();
        if cast.end.is_none() || is_bite && !was_bite {
            let catch =
                LoggedCatch { landed: Some(false), weight_kg: None, species: String::new() };
            let catch = is_bite.then_some(catch);
            cast.end = Some(CastEnd { kind, at_s, wound_in_s: None, catch });
        }
    }

    fn land(&mut self, mass_kg: f64) {
        let end = self.casts.last_mut().and_then(|cast| cast.end.as_mut());
        if let Some(catch) = end.and_then(|end| end.catch.as_mut()) {
            catch.landed = Some(true);
            catch.weight_kg = Some(mass_kg);
        }
    }
}

impl Observer<Event> for LogWriter<'_> {
    fn observe(&mut self, at: Time, event: Event) {
        let now_s = at.seconds();
        match event {
            Event::RigIsCast { line, .. } => self.cast(line.0, now_s),
            Event::FeederLands { .. } => self.is_on_bed = true,
            Event::FishTakes { .. } | Event::FishIsFoulHooked { .. } => {
                self.end_cast(EndKind::Bite, now_s);
            }
            Event::RigIsWoundIn { .. } => self.end_cast(EndKind::WoundIn, now_s),
            Event::FishIsNetted { fish } => self.land(self.day.stock[fish].mass_kg()),
            _ => {}
        }
    }
}
