//! Waters that were practised on: their logs, what the fitted simulator then says of two plans, and the truth.

use std::convert::Infallible;

use rayon::prelude::*;
use sim::angler::Plan;
use sim::catch_log::{CatchLog, LoggedSession, catch_log_text, read_catch_log};
use sim::scenario::{Scenario, Unknown, UnknownTarget, read_learned_book};
use sim::session::{Day, run_session};
use sim::study::{
    CheckFigures, Control, FitOutcome, FitSpec, LogSimulator, LoggedPlan, SimulatedCase,
    SummaryFrame, compare, fit_from,
};

/// Days of a water on which its truth is measured begin here, after those of all practice.
const TRUTH_DAYS: u32 = 1_000_000;

/// One water: the unknowns behind it and its practice sessions.
struct PractisedWater {
    scores: Vec<f64>,
    sessions: Vec<LoggedSession>,
}

/// Simulated waters of one scenario with two plans, on which the same practice was fished.
pub(super) struct PractisedWaters<'a> {
    scenario: &'a Scenario,
    practice: Vec<LoggedPlan>,
    unknowns: Vec<Unknown>,
    seed: u64,
    waters: Vec<PractisedWater>,
}

impl<'a> PractisedWaters<'a> {
    /// Draws `count` waters from the priors and fishes the practice sessions on each.
    pub(super) fn new(scenario: &'a Scenario, practice: &[Plan], seed: u64, count: u32) -> Self {
        let logged = |plan: &Plan| LoggedPlan {
            scenario: scenario.clone(),
            plan: plan.clone(),
            start_s: 0.0,
        };
        let practice: Vec<LoggedPlan> = practice.iter().map(logged).collect();
        let unknowns = scenario.unknowns();
        let simulator =
            LogSimulator { plans: &practice, unknowns: &unknowns, seed, time_unit_s: 1.0 };
        let waters = (1..=count).into_par_iter().map(|water| {
            let (scores, mut sessions) = simulator.log(water);
            for (session, number) in sessions.iter_mut().zip(1..) {
                session.name = format!("session-{number}");
            }
            PractisedWater { scores, sessions }
        });
        let waters = waters.collect();
        Self { scenario, practice, unknowns, seed, waters }
    }

    /// By how much the first plan is ahead of the second one on a water, over many days [kg].
    pub(super) fn true_lead_kg(&self, water: usize, days: u32) -> f64 {
        let stock = self.unknowns.iter().zip(&self.waters[water].scores);
        let (targets, factors): (Vec<UnknownTarget>, Vec<f64>) = stock
            .filter(|(unknown, _)| matches!(unknown.target, UnknownTarget::StockFactor(_)))
            .map(|(unknown, score)| (unknown.target, unknown.parameter.value_at_score(*score)))
            .unzip();
        let number = water as u32 + 1;
        let lead_g = |day: u32| {
            let day = [TRUTH_DAYS + water as u32 * days + day, number];
            let learned = Some((targets.as_slice(), factors.as_slice()));
            let day = Day::draw_with(self.scenario, self.seed, day, 0, learned);
            let [first, second] = [0, 1].map(|plan| {
                run_session(self.scenario, &self.scenario.plans[plan], &day).weight_g as f64
            });
            first - second
        };
        (0..days).map(lead_g).sum::<f64>() / f64::from(days) / 1000.0
    }

    /// What `compare` says of the lead of the first plan once the simulator is fitted to the first `sessions` of the water's
    /// log, by the other waters [kg]. `None` if it was not fitted.
    pub(super) fn fitted_lead_kg(&self, water: usize, sessions: usize, days: u32) -> Option<f64> {
        let log = self.log(water, sessions);
        let practice = &self.practice[..sessions];
        let starts_s = vec![0.0; sessions];
        let frame = SummaryFrame::new(self.scenario, &log.sessions, &starts_s);
        let others = self.waters.iter().enumerate().filter(|(other, _)| *other != water);
        let cases: Vec<SimulatedCase> = others
            .map(|(_, other)| SimulatedCase {
                scores: other.scores.clone(),
                summaries: frame.summaries(&other.sessions[..sessions]),
                checks: CheckFigures::new(&other.sessions[..sessions], &starts_s),
            })
            .collect();
        let spec = FitSpec {
            log: &log,
            plans: practice,
            scenario: self.scenario,
            seed: self.seed,
            simulated_logs: cases.len() as u32,
            days: 0,
        };
        let nothing_new = |_, _: &[SimulatedCase]| Ok::<(), Infallible>(());
        let Ok(outcome) = fit_from(&spec, cases, Control::default(), nothing_new);
        let FitOutcome::Fitted { book, .. } = outcome else { return None };
        let mut fitted = self.scenario.clone();
        fitted.lay_over(read_learned_book(&book, "book", self.scenario).expect("a sound book"));
        Some(compared_lead_kg(&fitted, days))
    }

    /// The lead of the first plan by the weights in the first `sessions` of the water's log alone; odd sessions begin with it,
    /// even ones end with it [kg].
    pub(super) fn logged_lead_kg(&self, water: usize, sessions: usize) -> f64 {
        let half_s = 0.5 * self.scenario.session_s;
        let signed_kg = |(number, session): (usize, &LoggedSession)| -> f64 {
            let landed = session.casts.iter().filter_map(|cast| {
                let kg = cast.end.as_ref()?.catch.as_ref()?.weight_kg?;
                let is_first = (cast.cast_s < half_s) == (number % 2 == 0);
                Some(if is_first { kg } else { -kg })
            });
            landed.sum()
        };
        self.waters[water].sessions[..sessions].iter().enumerate().map(signed_kg).sum()
    }

    fn log(&self, water: usize, sessions: usize) -> CatchLog {
        let text = catch_log_text(&self.waters[water].sessions[..sessions]);
        read_catch_log(&text, "log", "log.csv").unwrap_or_else(|faults| panic!("{faults}"))
    }
}

/// What `compare` says of the lead of the first plan over the second one [kg].
pub(super) fn compared_lead_kg(scenario: &Scenario, days: u32) -> f64 {
    let Ok(result) = compare(scenario, 1, days, Control::default(), |_| Ok::<(), Infallible>(()));
    result.plans[0].weight_kg.mean - result.plans[1].weight_kg.mean
}
