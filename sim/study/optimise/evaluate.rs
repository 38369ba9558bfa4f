//! Evaluates the points of a search: variants of a scenario, fished on days that all points share.

use std::collections::BTreeMap;
use std::sync::Arc;

use rayon::prelude::*;

use super::day_quality::DayQuality;
use super::objective::Objective;
use crate::scenario::Scenario;
use crate::session::Outcome;
use crate::stats::{GridPoint, Simulator, Trial};
use crate::study::progress::Control;
use crate::study::runner::Runner;
use crate::study::units::kg;

/// A scenario with some values set, and the plan of it that is fished.
#[derive(Clone, Debug)]
pub struct PlanVariant {
    /// The scenario.
    pub scenario: Scenario,
    /// Index of the plan in the scenario.
    pub plan: usize,
}

/// Reads the variant of a point. `None` if its values are valid alone but not together. The empty point is the
/// scenario as written.
pub type ReadVariant<'a> = dyn FnMut(&[usize]) -> Option<PlanVariant> + 'a;

/// Evaluates points under noise; each variant is read once.
pub(super) struct Evaluator<'a> {
    read: &'a mut ReadVariant<'a>,
    variants: BTreeMap<GridPoint, Option<Arc<PlanVariant>>>,
    objective: Objective,
    /// Quality of the days; `None` unless the objective is a place in a section.
    day_quality: Option<DayQuality>,
    runner: Runner<'a>,
    /// Number of sessions fished so far.
    sessions: u64,
}

impl<'a> Evaluator<'a> {
    pub(super) fn new(
        read: &'a mut ReadVariant<'a>,
        objective: Objective,
        day_quality: Option<DayQuality>,
        seed: u64,
        control: Control<'a>,
    ) -> Self {
        let (variants, runner) = (BTreeMap::new(), Runner { seed, control });
        Self { read, variants, objective, day_quality, runner, sessions: 0 }
    }

    /// Number of sessions fished so far.
    pub(super) fn sessions(&self) -> u64 {
        self.sessions
    }

    /// Value of a session: its weight in kilograms, 1 or 0 for a target that was reached or missed, or a probability.
    fn value(&self, outcome: &Outcome, day: u32) -> f64 {
        let weight_kg = kg(outcome.weight_g as f64);
        match (self.objective, &self.day_quality) {
            (Objective::Target { target_kg }, _) => f64::from(u8::from(weight_kg >= target_kg)),
            (_, Some(day_quality)) => day_quality.probability(weight_kg, day),
            (_, None) => weight_kg,
        }
    }

    fn variant(&mut self, point: &[usize]) -> Option<Arc<PlanVariant>> {
        if let Some(variant) = self.variants.get(point) {
            return variant.clone();
        }
        let variant = (self.read)(point).map(Arc::new);
        self.variants.insert(point.to_vec(), variant.clone());
        variant
    }
}

impl Simulator for Evaluator<'_> {
    fn is_possible(&mut self, point: &[usize]) -> bool {
        self.variant(point).is_some()
    }

    fn simulate(&mut self, trials: &[Trial]) -> Option<Vec<Vec<f64>>> {
        let variants: Vec<Arc<PlanVariant>> = trials
            .iter()
            .map(|trial| self.variant(&trial.point).expect("only possible points are tried"))
            .collect();
        let sessions: Vec<(&PlanVariant, u32)> = (trials.iter().zip(&variants))
            .flat_map(|(trial, variant)| trial.days.clone().map(|day| (variant.as_ref(), day)))
            .collect();
        let runner = self.runner;
        if let Some(day_quality) = &mut self.day_quality {
            let mut days: Vec<u32> = sessions.iter().map(|&(_, day)| day).collect();
            days.sort_unstable();
            days.dedup();
            day_quality.measure(&days);
        }
        let outcomes: Option<Vec<Outcome>> = sessions
            .par_iter()
            .map(|&(set, number)| {
                let day = runner.draw(&set.scenario, number)?;
                runner.fish(&set.scenario, set.plan, &day)
            })
            .collect();
        self.sessions += sessions.len() as u64;
        let outcomes = outcomes?;
        let mut values =
            sessions.iter().zip(&outcomes).map(|(&(_, day), outcome)| self.value(outcome, day));
        Some(trials.iter().map(|trial| values.by_ref().take(trial.days.len()).collect()).collect())
    }
}
