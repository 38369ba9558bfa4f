//! Advises.

use rayon::prelude::*;

use super::forecast::{Forecast, SimulatedRest, better, from_own_rate};
use super::result::{ForecastMethod, NowResult};
use super::so_far::{SoFar, comparable, is_bait_out, until};
use super::ways::{WayToGoOn, ways_to_go_on};
use crate::angler::{Plan, PlanId};
use crate::catch_log::{CatchLog, LoggedSession};
use crate::engine::Dice;
use crate::fish::Shoal;
use crate::scenario::{Scenario, UnknownTarget};
use crate::session::{Day, PausedSession};
use crate::study::fit::{LogWriter, LoggedPlan};
use crate::study::progress::Control;
use crate::study::stamp::Stamp;

/// Marks the random numbers of the factors of stock.
const STOCK_STREAM: u64 = 0x57_0C4;
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
    let NowSpec { scenario, log, past, clock_s, .. } = *spec;
    let at_s = clock_s - past.start_s;
    let left_s = scenario.session_s - at_s;
    if left_s < MIN_LEFT_S {
        return Err(NowError::Over { length_s: scenario.session_s, at_s });
    }
    let today = log.sessions.last().map_or_else(|| nothing(spec), Clone::clone);
    let is_bait_out = is_bait_out(&today, clock_s);
    let today = until(&today, clock_s);
    let plan = &scenario.plans[spec.plan];
    let ways = ways_to_go_on(scenario, plan, at_s, is_bait_out);
    let mut lines: Vec<String> = Vec::new();
    for cast in &today.casts {
        if !lines.contains(&cast.line) {
            lines.push(cast.line.clone());
        }
    }
    lines.truncate(3);
    let so_far = SoFar::new(&today);
    let usual_per_h = (f64::from(so_far.bites) + 0.5) / (so_far.waited_s.max(600.0) / 3600.0);
    let simulator = RestSimulator {
        spec,
        past: past_to_the_end(past, scenario, at_s),
        ways: &ways,
        lines: &lines,
        says_landed: so_far.says_landed,
        usual_per_h,
    };
    let rests: Option<Vec<SimulatedRest>> =
        (1..=spec.sessions).into_par_iter().map(|number| simulator.rest(number, control)).collect();
    let rests = rests.ok_or(NowError::Interrupted)?;
    let usual_kg = mean_kg(&scenario.shoals);
    let weight_kg = so_far.weight_kg(usual_kg);
    let observed = comparable(&today, so_far.says_landed, &lines, clock_s, usual_per_h);
    let target_kg = scenario.aims.target_kg;
    let forecast = Forecast::new(&rests, &ways, &observed, weight_kg);
    let (method, effective, mut forecasts) = match &forecast {
        Some(forecast) => {
            (ForecastMethod::SimulatedSessions, forecast.effective(), forecast.ways(target_kg))
        }
        None => {
            // Two of three bites are landed, as far as the log does not say otherwise.
            let written_bites = if so_far.says_landed { so_far.bites } else { 0 };
            let landed_share = (f64::from(so_far.landed) + 2.0) / (f64::from(written_bites) + 3.0);
            let mean_kg =
                if so_far.landed > 0 { weight_kg / f64::from(so_far.landed) } else { usual_kg };
            let seen = (so_far.bites, at_s);
            let own =
                from_own_rate(&rests, seen, left_s, weight_kg, landed_share * mean_kg, target_kg);
            (ForecastMethod::OwnRate, 0.0, vec![own])
        }
    };
    forecasts[1..].sort_by(|a, b| b.final_kg.total_cmp(&a.final_kg));
    let better = better(&forecasts);
    Ok(NowResult {
        format: NowResult::FORMAT,
        stamp: Stamp::from_scenario(scenario, spec.seed),
        plan: plan.name.clone(),
        session: today.name,
        at_s,
        left_s,
        casts: so_far.casts,
        bites: so_far.bites,
        landed: so_far.says_landed.then_some(so_far.landed),
        weight_kg,
        method,
        simulated: spec.sessions,
        effective,
        turn: if better.is_none() { forecast.as_ref().and_then(Forecast::turn) } else { None },
        better,
        ways: forecasts,
    })
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

struct RestSimulator<'a> {
    spec: &'a NowSpec<'a>,
    past: Plan,
    ways: &'a [WayToGoOn],
    lines: &'a [String],
    says_landed: bool,
    usual_per_h: f64,
}

impl RestSimulator<'_> {
    /// Simulates the session so far on one day, and every way to go on from there. `None` if it was stopped.
    fn rest(&self, number: u32, control: Control<'_>) -> Option<SimulatedRest> {
        if control.is_stopped() {
            return None;
        }
        let NowSpec { scenario, past: logged, clock_s, seed, .. } = *self.spec;
        let at_s = clock_s - logged.start_s;
        let day = self.day(scenario, seed, number);
        let unit_s = self.spec.log.time_unit_s;
        let mut writer = LogWriter::new(scenario, &self.past, &day, logged.start_s, unit_s);
        let paused = PausedSession::new(scenario, &self.past, &day, at_s, &mut writer);
        let before_g = paused.outcome().weight_g;
        let bites = paused.outcome().bites;
        let outcomes: Vec<_> =
            self.ways.iter().map(|way| paused.go_on(&way.plan, way.winds_in_now)).collect();
        drop(paused);
        control.progress.on_session_done();
        let planned = outcomes.first()?;
        let next = planned.catches.iter().map(|fish| fish.at_s).find(|fish_s| *fish_s > at_s);
        let session = writer.into_session(at_s);
        Some(SimulatedRest {
            so_far: comparable(&session, self.says_landed, self.lines, clock_s, self.usual_per_h),
            gains_kg: outcomes
                .iter()
                .map(|outcome| (outcome.weight_g - before_g) as f64 * GRAM_KG)
                .collect(),
            next_fish_s: next.map_or(f64::INFINITY, |fish_s| fish_s - at_s),
            bites: f64::from(planned.bites - bites),
        })
    }

    /// One day; without a learned book the number of fish of each shoal is in doubt as well.
    fn day(&self, scenario: &Scenario, seed: u64, number: u32) -> Day {
        if scenario.learned.is_some() || scenario.fixed_days {
            return Day::draw(scenario, seed, number);
        }
        let mut dice = Dice::from_key(&[seed, u64::from(number), STOCK_STREAM]);
        let stock = scenario
            .unknowns()
            .into_iter()
            .filter(|unknown| matches!(unknown.target, UnknownTarget::StockFactor(_)));
        let (targets, values): (Vec<_>, Vec<_>) =
            stock.map(|unknown| (unknown.target, unknown.parameter.draw(&mut dice))).unzip();
        Day::draw_with(scenario, seed, [number, number], 0, Some((&targets, &values)))
    }
}
