//! Advises.

use rayon::prelude::*;

use super::forecast::{Forecast, SimulatedRest, better, from_own_rate};
use super::result::{ForecastMethod, NowResult};
use super::so_far::{SoFar, comparable, is_bait_out, until};
use super::ways::{WayToGoOn, ways_to_go_on};
use crate::angler::{Plan, PlanId};
use crate::catch_log::{CatchLog, LoggedSession};
use crate::fish::Shoal;
use crate::scenario::Scenario;
use crate::session::PausedSession;
use crate::study::doubtful_day::doubtful_day;
use crate::study::fit::{LogWriter, LoggedPlan};
use crate::study::progress::Control;
use crate::study::stamp::Stamp;

/// Largest number of lines that are compared each by itself.
const MAX_LINES: usize = 3;
/// Least time that must be left [s].
const MIN_LEFT_S: f64 = 60.0;
/// Gram, for weights in whole grams [kg].
const GRAM_KG: f64 = 1e-3;

/// What to advise on.
#[derive(Clone, Copy, Debug)]
pub struct NowSpec<'a> {
    /// The scenario, with a learned book if there is one.
    pub scenario: &'a Scenario,
    /// The plan that is fished, by its place.
    pub plan: PlanId,
    /// The log; its last session is today's.
    pub log: &'a CatchLog,
    /// Today's session as a plan.
    pub past: &'a LoggedPlan,
    /// The time now, on the log's clock [s].
    pub clock_s: f64,
    /// Seed of the simulated sessions.
    pub seed: u64,
    /// Sessions to simulate up to now.
    pub sessions: u32,
}

/// Why there is no advice.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum NowError {
    /// The session is over.
    #[error("the session is over: it is {length_s} s long, and {at_s} s have passed")]
    Over {
        /// Length of the session [s].
        length_s: f64,
        /// Time since the start [s].
        at_s: f64,
    },
    /// It was stopped from outside.
    #[error("interrupted")]
    Interrupted,
}

/// Says what each way to go on is worth.
///
/// # Errors
///
/// [`NowError`].
pub fn now(spec: &NowSpec<'_>, control: Control<'_>) -> Result<NowResult, NowError> {
    let study = NowStudy::new(spec)?;
    let rests: Option<Vec<SimulatedRest>> =
        (1..=spec.sessions).into_par_iter().map(|number| study.rest(number, control)).collect();
    Ok(study.advice(&rests.ok_or(NowError::Interrupted)?))
}

/// One request for advice: its sessions can be simulated anywhere, in any order, before they are put together.
pub struct NowStudy<'a> {
    pub(super) spec: NowSpec<'a>,
    /// Time since the start [s].
    pub(super) at_s: f64,
    /// The session of the log up to now.
    pub(super) today: LoggedSession,
    so_far: SoFar,
    /// What was fished so far, going on to the end.
    pub(super) past: Plan,
    pub(super) ways: Vec<WayToGoOn>,
    /// Lines that were fished, of which each is compared by itself.
    pub(super) lines: Vec<String>,
    /// Bites an hour that a line without waiting is taken to have.
    usual_per_h: f64,
}

impl<'a> NowStudy<'a> {
    /// Looks at the session so far.
    ///
    /// # Errors
    ///
    /// [`NowError::Over`].
    pub fn new(spec: &NowSpec<'a>) -> Result<Self, NowError> {
        let NowSpec { scenario, log, past, clock_s, .. } = *spec;
        let at_s = clock_s - past.start_s;
        if scenario.session_s - at_s < MIN_LEFT_S {
            return Err(NowError::Over { length_s: scenario.session_s, at_s });
        }
        let today = log.sessions.last().map_or_else(|| nothing(spec), Clone::clone);
        let is_bait_out = is_bait_out(&today, clock_s);
        let today = until(&today, clock_s);
        let mut lines: Vec<String> = Vec::new();
        for cast in &today.casts {
            if !lines.contains(&cast.line) {
                lines.push(cast.line.clone());
            }
        }
        lines.truncate(MAX_LINES);
        let so_far = SoFar::new(&today);
        let usual_per_h = (f64::from(so_far.bites) + 0.5) / (so_far.waited_s.max(600.0) / 3600.0);
        Ok(Self {
            spec: *spec,
            at_s,
            past: past_to_the_end(past, scenario, at_s),
            ways: ways_to_go_on(scenario, &scenario.plans[spec.plan], at_s, is_bait_out),
            today,
            so_far,
            lines,
            usual_per_h,
        })
    }

    /// What the sessions that were simulated up to now, numbers 1 to the last, say of every way to go on.
    #[must_use]
    pub fn advice(&self, rests: &[SimulatedRest]) -> NowResult {
        let NowSpec { scenario, .. } = self.spec;
        let so_far = &self.so_far;
        let left_s = scenario.session_s - self.at_s;
        let usual_kg = mean_kg(&scenario.shoals);
        let weight_kg = so_far.weight_kg(usual_kg);
        let observed = self.comparable(&self.today);
        let target_kg = scenario.aims.target_kg;
        let forecast = Forecast::new(rests, &self.ways, &observed, weight_kg);
        let (method, effective, mut forecasts) = match &forecast {
            Some(forecast) => (
                ForecastMethod::SimulatedSessions,
                forecast.effective(),
                forecast.ways(&scenario.aims),
            ),
            None => {
                // Two of three bites are landed, as far as the log does not say otherwise.
                let written_bites = if so_far.says_landed { so_far.bites } else { 0 };
                let landed_share =
                    (f64::from(so_far.landed) + 2.0) / (f64::from(written_bites) + 3.0);
                let mean_kg =
                    if so_far.landed > 0 { weight_kg / f64::from(so_far.landed) } else { usual_kg };
                let seen = (so_far.bites, self.at_s);
                let bite_kg = landed_share * mean_kg;
                let own = from_own_rate(rests, seen, left_s, weight_kg, bite_kg, target_kg);
                (ForecastMethod::OwnRate, 0.0, vec![own])
            }
        };
        forecasts[1..].sort_by(|a, b| b.final_kg.total_cmp(&a.final_kg));
        let better = better(&forecasts);
        NowResult {
            format: NowResult::FORMAT,
            stamp: Stamp::from_scenario(scenario, self.spec.seed),
            plan: scenario.plans[self.spec.plan].name.clone(),
            session: self.today.name.clone(),
            at_s: self.at_s,
            left_s,
            casts: so_far.casts,
            bites: so_far.bites,
            landed: so_far.says_landed.then_some(so_far.landed),
            weight_kg,
            method,
            simulated: rests.len() as u32,
            effective,
            turn: if better.is_none() { forecast.as_ref().and_then(Forecast::turn) } else { None },
            better,
            ways: forecasts,
        }
    }

    /// Whether these are sessions of this request, as far as their form says.
    #[must_use]
    pub fn fits(&self, rests: &[SimulatedRest]) -> bool {
        let numbers = self.comparable(&self.today).len();
        rests.iter().all(|rest| rest.has_form(numbers, self.ways.len()))
    }

    /// Simulates the session so far on one day, and every way to go on from there. `None` if it was stopped.
    #[must_use]
    pub fn rest(&self, number: u32, control: Control<'_>) -> Option<SimulatedRest> {
        if control.is_stopped() {
            return None;
        }
        let NowSpec { scenario, past: logged, log, seed, .. } = self.spec;
        let day = doubtful_day(scenario, seed, number, number);
        let mut writer =
            LogWriter::new(scenario, &self.past, &day, logged.start_s, log.time_unit_s);
        let paused = PausedSession::new(scenario, &self.past, &day, self.at_s, &mut writer);
        let before_g = paused.outcome().weight_g;
        let bites = paused.outcome().bites;
        let outcomes: Vec<_> =
            self.ways.iter().map(|way| paused.go_on(&way.plan, way.winds_in_now)).collect();
        drop(paused);
        control.progress.on_session_done();
        let planned = outcomes.first()?;
        let next = planned.catches.iter().map(|fish| fish.at_s).find(|fish_s| *fish_s > self.at_s);
        let session = writer.into_session(self.at_s);
        Some(SimulatedRest {
            so_far: self.comparable(&session),
            gains_kg: outcomes
                .iter()
                .map(|outcome| (outcome.weight_g - before_g) as f64 * GRAM_KG)
                .collect(),
            next_fish_s: next.map(|fish_s| fish_s - self.at_s),
            bites: f64::from(planned.bites - bites),
            offered_kg: day.keen_kg(scenario.session_s),
        })
    }

    /// Scratch.
    pub fn observed(&self) -> (Vec<f64>, f64) {
        let usual_kg = mean_kg(&self.spec.scenario.shoals);
        (self.comparable(&self.today), self.so_far.weight_kg(usual_kg))
    }

    /// Numbers by which this session is compared with others.
    pub(super) fn comparable(&self, session: &LoggedSession) -> Vec<f64> {
        let NowSpec { clock_s, .. } = self.spec;
        comparable(session, self.so_far.says_landed, &self.lines, clock_s, self.usual_per_h)
    }
}

/// A session without casts.
fn nothing(spec: &NowSpec<'_>) -> LoggedSession {
    LoggedSession { name: spec.past.plan.name.clone(), date: None, casts: Vec::new() }
}

/// The session up to a time since its start [s] as a plan whose last phase goes on to the end.
fn past_to_the_end(past: &LoggedPlan, scenario: &Scenario, at_s: f64) -> Plan {
    let mut plan = past.plan.clone();
    plan.phases.retain(|phase| phase.from_s <= at_s);
    // In a rest between two casts of the log the rod is out of the water.
    let is_whole = plan.phases.len() == past.plan.phases.len();
    if let Some(last) = plan.phases.last_mut().filter(|last| is_whole || last.until_s > at_s) {
        last.until_s = scenario.session_s;
    }
    plan
}

/// Mean weight of a fish of the scenario [kg].
fn mean_kg(shoals: &[Shoal]) -> f64 {
    let number: f64 = shoals.iter().map(Shoal::mean_number).sum();
    let kg = shoals.iter().map(|shoal| shoal.mean_number() * shoal.mass_kg.mean());
    kg.sum::<f64>() / number.max(1e-9)
}
