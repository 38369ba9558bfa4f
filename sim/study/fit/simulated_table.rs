//! Simulated logs of the same casts, each on a water with other unknowns.

use std::convert::Infallible;

use rayon::prelude::*;

use super::check_figures::CheckFigures;
use super::log_share::BLOCK_LOGS;
use super::logged_plan::LoggedPlan;
use super::simulated_log::simulated_session;
use super::summaries::SummaryFrame;
use crate::catch_log::LoggedSession;
use crate::engine::Dice;
use crate::scenario::{Unknown, UnknownTarget};
use crate::session::Day;
use crate::study::progress::Control;

/// Marks the random numbers of the factors of stock.
const STOCK_STREAM: u64 = 0x57_0C4;

/// One simulated log, with the unknowns behind it.
#[derive(Clone, Debug, PartialEq)]
pub struct SimulatedCase {
    /// Standard normal scores of all unknowns.
    pub scores: Vec<f64>,
    /// Summaries of the log.
    pub summaries: Vec<f64>,
    /// Figures of the log that are not fitted.
    pub checks: CheckFigures,
}

/// What simulated logs are made from.
#[derive(Clone, Copy, Debug)]
pub struct LogSimulator<'a> {
    /// The sessions of the log as plans.
    pub plans: &'a [LoggedPlan],
    /// The unknowns, in the order of the scores.
    pub unknowns: &'a [Unknown],
    /// Seed of the simulated logs.
    pub seed: u64,
    /// To how many seconds times are written down [s].
    pub time_unit_s: f64,
}

impl LogSimulator<'_> {
    /// Simulates the log with water number `water`, counted from 1: unknowns from their priors, a day for each session.
    #[must_use]
    pub fn log(&self, water: u32) -> (Vec<f64>, Vec<LoggedSession>) {
        let mut dice = Dice::from_key(&[self.seed, u64::from(water), STOCK_STREAM]);
        let mut scores = vec![0.0; self.unknowns.len()];
        let (mut targets, mut factors) = (Vec::new(), Vec::new());
        for (unknown, score) in self.unknowns.iter().zip(&mut scores) {
            if let UnknownTarget::StockFactor(_) = unknown.target {
                let factor = unknown.parameter.draw(&mut dice);
                *score = unknown.parameter.score_of(factor);
                targets.push(unknown.target);
                factors.push(factor);
            }
        }
        let mut sessions = Vec::with_capacity(self.plans.len());
        for (logged, number) in self.plans.iter().zip(1..) {
            let weather_day = (water - 1) * self.plans.len() as u32 + number;
            let LoggedPlan { scenario, plan, start_s } = logged;
            let learned = Some((targets.as_slice(), factors.as_slice()));
            let day = Day::draw_with(scenario, self.seed, [weather_day, water], 0, learned);
            for (unknown, score) in self.unknowns.iter().zip(&mut scores) {
                if let UnknownTarget::Row(place) = unknown.target {
                    *score = unknown.parameter.score_of(day.drawn[place]);
                }
            }
            sessions.push(simulated_session(scenario, plan, &day, *start_s, self.time_unit_s));
        }
        (scores, sessions)
    }

    /// Simulates the logs of waters 1 to `count`, in parallel and delivered in order. `None` if it was stopped.
    #[must_use]
    pub fn table(
        &self,
        frame: &SummaryFrame,
        count: u32,
        control: Control<'_>,
    ) -> Option<Vec<SimulatedCase>> {
        let keep = |_, _: &[SimulatedCase]| Ok::<(), Infallible>(());
        let waters: Vec<u32> = (1..=count).collect();
        let Ok(cases) = self.continued_table(frame, Vec::new(), &waters, control, keep);
        (cases.len() as u32 == count).then_some(cases)
    }

    /// Goes on with a table until it has the logs of all `waters`, or until it is stopped; `keep` is given each chunk of new
    /// ones with the place of its first, counted from 0.
    ///
    /// # Errors
    ///
    /// The first error of `keep`.
    pub fn continued_table<E>(
        &self,
        frame: &SummaryFrame,
        mut cases: Vec<SimulatedCase>,
        waters: &[u32],
        control: Control<'_>,
        mut keep: impl FnMut(usize, &[SimulatedCase]) -> Result<(), E>,
    ) -> Result<Vec<SimulatedCase>, E> {
        cases.truncate(waters.len());
        for waters in waters[cases.len()..].chunks(BLOCK_LOGS as usize) {
            let chunk: Option<Vec<SimulatedCase>> =
                waters.par_iter().map(|&water| self.case(frame, water, control)).collect();
            let Some(chunk) = chunk else { break };
            keep(cases.len(), &chunk)?;
            cases.extend(chunk);
        }
        Ok(cases)
    }

    /// The simulated log of a water. `None` if it was stopped.
    pub(super) fn case(
        &self,
        frame: &SummaryFrame,
        water: u32,
        control: Control<'_>,
    ) -> Option<SimulatedCase> {
        if control.is_stopped() {
            return None;
        }
        let (scores, sessions) = self.log(water);
        self.plans.iter().for_each(|_| control.progress.on_session_done());
        let starts_s: Vec<f64> = self.plans.iter().map(|plan| plan.start_s).collect();
        let checks = CheckFigures::new(&sessions, &starts_s);
        Some(SimulatedCase { scores, summaries: frame.summaries(&sessions), checks })
    }
}
