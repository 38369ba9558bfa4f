//! Runs sessions for a study: draws days, fishes plans on them, reports progress and obeys a stop.

use std::borrow::Borrow;
use std::time::Instant;

use rayon::prelude::*;

use super::progress::Control;
use super::units::kg;
use crate::angler::PlanId;
use crate::scenario::Scenario;
use crate::session::{Day, Outcome, run_session};

/// Fishes sessions of one seed, reports each one as progress, and stops if requested.
#[derive(Clone, Copy)]
pub(super) struct Runner<'a> {
    pub(super) seed: u64,
    pub(super) control: Control<'a>,
}

impl Runner<'_> {
    /// Draws day `number` of a scenario. `None` if the study was stopped.
    pub(super) fn draw(self, scenario: &Scenario, number: u32) -> Option<Day> {
        (!self.control.is_stopped()).then(|| Day::draw(scenario, self.seed, number))
    }

    /// Fishes one session: one plan on one day. `None` if the study was stopped.
    pub(super) fn fish(self, scenario: &Scenario, plan: PlanId, day: &Day) -> Option<Outcome> {
        if self.control.is_stopped() {
            return None;
        }
        let outcome = run_session(scenario, &scenario.plans[plan], day);
        self.control.progress.on_session_done();
        Some(outcome)
    }

    /// Fishes all plans on one day in parallel; the outcomes are in their order. `None` if the study was stopped.
    pub(super) fn fish_plans(self, scenario: &Scenario, day: &Day) -> Option<Vec<Outcome>> {
        let plans = (0..scenario.plans.len()).into_par_iter();
        plans.map(|plan| self.fish(scenario, PlanId(plan), day)).collect()
    }

    /// Fishes two plans on one day; their weights in order [kg]. `None` if the study was stopped.
    pub(super) fn weigh_pair(
        self,
        scenario: &Scenario,
        pair: [PlanId; 2],
        day: &Day,
    ) -> Option<[f64; 2]> {
        let [a, b] = pair
            .map(|plan| self.fish(scenario, plan, day).map(|outcome| kg(outcome.weight_g as f64)));
        Some([a?, b?])
    }
}

/// Measures the time of one session with all threads at work [s], by fishing every plan once on each sample's scenario.
pub fn seconds_per_session<S: Borrow<Scenario>>(
    samples: u32,
    seed: u64,
    scenario_of: impl Fn(u32) -> S + Sync,
) -> f64 {
    let started = Instant::now();
    let sessions: usize = (0..samples)
        .into_par_iter()
        .map(|sample| {
            let scenario = scenario_of(sample);
            let scenario = scenario.borrow();
            let day = Day::draw(scenario, seed, 1 + sample);
            scenario.plans.iter().for_each(|plan| drop(run_session(scenario, plan, &day)));
            scenario.plans.len()
        })
        .sum();
    started.elapsed().as_secs_f64() / sessions.max(1) as f64
}
