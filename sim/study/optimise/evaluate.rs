//! Evaluates the points of a search: variants of a scenario, fished on days that all points share.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use rayon::prelude::*;

use super::day_quality::DayQuality;
use super::objective::Objective;
use super::request::SearchSpec;
use super::result::Setting;
use crate::angler::PlanId;
use crate::scenario::Scenario;
use crate::session::Outcome;
use crate::stats::{GridPoint, Simulator, Trial};
use crate::study::progress::Control;
use crate::study::runner::Runner;
use crate::study::sweep::plan_of_key;
use crate::study::units::kg;

/// A scenario with some values set, and the plan of it that is fished.
#[derive(Clone, Debug)]
pub struct PlanVariant {
    /// The scenario.
    pub scenario: Scenario,
    /// The plan.
    pub plan: PlanId,
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
    /// The settings that may vary.
    settings: &'a [Setting],
    /// Values of sessions that are the same at several points, by the first of these points and the day.
    shared: BTreeMap<(GridPoint, u32), f64>,
    /// Number of sessions fished so far.
    sessions: u64,
}

impl<'a> Evaluator<'a> {
    pub(super) fn new(
        read: &'a mut ReadVariant<'a>,
        objective: Objective,
        day_quality: Option<DayQuality>,
        request: &'a SearchSpec,
        control: Control<'a>,
    ) -> Self {
        let (variants, runner) = (BTreeMap::new(), Runner { seed: request.seed, control });
        let (settings, shared) = (request.settings.as_slice(), BTreeMap::new());
        Self { read, variants, objective, day_quality, runner, settings, shared, sessions: 0 }
    }

    /// The first of the points at which the chosen plan is as at this one: settings of other plans do not touch it.
    /// `None` if there is no other such point.
    fn first_point(&self, point: &[usize]) -> Option<GridPoint> {
        let chosen = self.settings.iter().position(|setting| setting.key == Setting::PLAN)?;
        let plan = &self.settings[chosen].values[*point.get(chosen)?];
        let is_other =
            |setting: &Setting| plan_of_key(&setting.key).is_some_and(|name| name != plan);
        let first: GridPoint = (self.settings.iter().zip(point))
            .map(|(setting, &level)| if is_other(setting) { 0 } else { level })
            .collect();
        self.settings.iter().any(is_other).then_some(first)
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
        // Each session is fished once, at the first of the points at which it is the same.
        let points: Vec<Option<GridPoint>> =
            trials.iter().map(|trial| self.first_point(&trial.point)).collect();
        let keys: Vec<Option<(GridPoint, u32)>> = (trials.iter().zip(&points))
            .flat_map(|(trial, first)| {
                trial.days.clone().map(move |day| Some((first.clone()?, day)))
            })
            .collect();
        let mut begun = BTreeSet::new();
        let is_new = |key: &Option<(GridPoint, u32)>| match key {
            Some(key) => !self.shared.contains_key(key) && begun.insert(key.clone()),
            None => true,
        };
        let to_fish: Vec<bool> = keys.iter().map(is_new).collect();
        let runner = self.runner;
        if let Some(day_quality) = &mut self.day_quality {
            let mut days: Vec<u32> = sessions.iter().map(|&(_, day)| day).collect();
            days.sort_unstable();
            days.dedup();
            day_quality.measure(&days);
        }
        let outcomes: Option<Vec<Option<Outcome>>> = (sessions.par_iter().zip(&to_fish))
            .map(|(&(set, number), &is_new)| {
                if !is_new {
                    return Some(None);
                }
                let day = runner.draw(&set.scenario, number)?;
                runner.fish(&set.scenario, set.plan, &day).map(Some)
            })
            .collect();
        self.sessions += sessions.len() as u64;
        let outcomes = outcomes?;
        let fished: Vec<Option<f64>> = (sessions.iter().zip(&outcomes))
            .map(|(&(_, day), outcome)| Some(self.value(outcome.as_ref()?, day)))
            .collect();
        for (key, value) in keys.iter().zip(&fished) {
            if let (Some(key), Some(value)) = (key, value) {
                self.shared.insert(key.clone(), *value);
            }
        }
        let shared = &self.shared;
        let known = |key: &Option<(GridPoint, u32)>| shared.get(key.as_ref()?).copied();
        let mut values = (keys.iter().zip(fished)).map(|(key, value)| {
            value.or_else(|| known(key)).expect("it was fished, here or before")
        });
        Some(trials.iter().map(|trial| values.by_ref().take(trial.days.len()).collect()).collect())
    }
}
