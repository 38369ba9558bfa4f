//! Advises.

use std::ops::RangeInclusive;

use rayon::prelude::*;

use super::forecast::{SimulatedRest, from_own_rate};
use super::result::{ForecastMethod, NowResult, WayForecast};
use super::rounds::{Advised, Observed, advised, contenders, first_round};
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
    /// Sessions to simulate up to now, in both rounds.
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
    let simulated = |numbers: RangeInclusive<u32>, ways: &[usize]| {
        let rests = numbers.into_par_iter().map(|number| study.rest(number, ways, control));
        rests.collect::<Option<Vec<SimulatedRest>>>().ok_or(NowError::Interrupted)
    };
    let first = study.first_sessions();
    let mut rests = simulated(1..=first, &study.every_way())?;
    if first < spec.sessions {
        let contenders = study.contenders(&rests);
        rests.extend(simulated(first + 1..=spec.sessions, &contenders)?);
    }
    Ok(study.advice(&rests))
}

/// One request for advice: the sessions of its first round, and then those of its second one, can be simulated anywhere, in any
/// order, before they are put together.
pub struct NowStudy<'a> {
    spec: NowSpec<'a>,
    /// Time since the start [s].
    at_s: f64,
    /// The session of the log up to now.
    today: LoggedSession,
    so_far: SoFar,
    /// What was fished so far, going on to the end.
    past: Plan,
    ways: Vec<WayToGoOn>,
    /// Lines that were fished, of which each is compared by itself.
    lines: Vec<String>,
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

    /// Number of the last session of the first round.
    #[must_use]
    pub fn first_sessions(&self) -> u32 {
        first_round(self.spec.sessions)
    }

    /// The places of the ways that the first round tries.
    #[must_use]
    pub fn every_way(&self) -> Vec<usize> {
        (0..self.ways.len()).collect()
    }

    /// The places of the ways that the second round tries, as the first one decides.
    #[must_use]
    pub fn contenders(&self, first: &[SimulatedRest]) -> Vec<usize> {
        let numbers = self.comparable(&self.today);
        let observed = Observed { numbers: &numbers, weight_kg: self.weight_kg() };
        contenders(&first.iter().collect::<Vec<_>>(), &self.ways, observed)
    }

    /// Weight in the net [kg].
    fn weight_kg(&self) -> f64 {
        self.so_far.weight_kg(mean_kg(&self.spec.scenario.shoals))
    }

    /// What the sessions that were simulated up to now, numbers 1 to the last, say of every way to go on.
    #[must_use]
    pub fn advice(&self, rests: &[SimulatedRest]) -> NowResult {
        let NowSpec { scenario, .. } = self.spec;
        let so_far = &self.so_far;
        let weight_kg = self.weight_kg();
        let numbers = self.comparable(&self.today);
        let observed = Observed { numbers: &numbers, weight_kg };
        let first = self.first_sessions() as usize;
        let advised = advised(rests, first, &self.ways, observed, &scenario.aims);
        let method = match advised {
            Some(_) => ForecastMethod::SimulatedSessions,
            None => ForecastMethod::OwnRate,
        };
        let by_own_rate = || {
            let ways = vec![self.own_rate(rests)];
            Advised { ways, better: None, turn: None, effective: 0.0 }
        };
        let Advised { mut ways, better, turn, effective } = advised.unwrap_or_else(by_own_rate);
        ways[1..].sort_by(|a, b| b.final_kg.total_cmp(&a.final_kg));
        let plan = &scenario.plans[self.spec.plan];
        NowResult {
            format: NowResult::FORMAT,
            stamp: Stamp::from_scenario(scenario, self.spec.seed),
            plan: plan.name.clone(),
            rules: plan.rules.list.len() as u32,
            session: self.today.name.clone(),
            at_s: self.at_s,
            left_s: scenario.session_s - self.at_s,
            casts: so_far.casts,
            bites: so_far.bites,
            landed: so_far.says_landed.then_some(so_far.landed),
            weight_kg,
            method,
            simulated: rests.len() as u32,
            effective,
            turn,
            better,
            ways,
        }
    }

    /// The plan's forecast from the angler's own bites alone.
    fn own_rate(&self, rests: &[SimulatedRest]) -> WayForecast {
        let NowSpec { scenario, .. } = self.spec;
        let (so_far, weight_kg) = (&self.so_far, self.weight_kg());
        // Two of three bites are landed, as far as the log does not say otherwise.
        let written_bites = if so_far.says_landed { so_far.bites } else { 0 };
        let landed_share = (f64::from(so_far.landed) + 2.0) / (f64::from(written_bites) + 3.0);
        let usual_kg = mean_kg(&scenario.shoals);
        let mean_kg =
            if so_far.landed > 0 { weight_kg / f64::from(so_far.landed) } else { usual_kg };
        let seen = (so_far.bites, self.at_s);
        let left_s = scenario.session_s - self.at_s;
        let target_kg = scenario.aims.target_kg;
        from_own_rate(rests, seen, left_s, weight_kg, landed_share * mean_kg, target_kg)
    }

    /// Whether these are sessions of the first round of this request, and some of its second, as far as their form says.
    #[must_use]
    pub fn fits(&self, rests: &[SimulatedRest]) -> bool {
        let numbers = self.comparable(&self.today).len();
        let first = self.first_sessions() as usize;
        if rests.len() < first
            || !rests[..first].iter().all(|of| of.has_form(numbers, self.ways.len()))
        {
            return false;
        }
        let (first, second) = rests.split_at(first);
        let contenders = if second.is_empty() { 0 } else { self.contenders(first).len() };
        second.iter().all(|rest| rest.has_form(numbers, contenders))
    }

    /// Simulates the session so far on one day, and some ways to go on from there, by their places; the plan is the first. `None`
    /// if it was stopped.
    #[must_use]
    pub fn rest(&self, number: u32, ways: &[usize], control: Control<'_>) -> Option<SimulatedRest> {
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
        let ways = ways.iter().map(|&way| &self.ways[way]);
        let outcomes: Vec<_> = ways.map(|way| paused.go_on(&way.plan, way.winds_in_now)).collect();
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

    /// Numbers by which this session is compared with others.
    fn comparable(&self, session: &LoggedSession) -> Vec<f64> {
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
