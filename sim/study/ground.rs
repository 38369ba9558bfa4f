//! Where the points of a search are fished: variants of a scenario, on days that all of them share.

use std::collections::BTreeMap;
use std::sync::Arc;

use rayon::prelude::*;

use super::progress::Control;
use super::wanted::Wanted;
use super::yardstick::Yardstick;
use crate::scenario::Scenario;
use crate::session::{Day, Outcome, fish_session};
use crate::stats::{Point, Trial, Trials};

/// A scenario with some values set, and the plan of it that is fished.
#[derive(Clone, Debug)]
pub struct PlanSet {
    /// The scenario.
    pub scenario: Scenario,
    /// The place of the plan in it.
    pub plan: usize,
}

/// What reads the variant of a point; none where values that are sound alone are not so together. The empty
/// point is the scenario as written.
pub type ReadPoint<'a> = dyn FnMut(&[usize]) -> Option<PlanSet> + 'a;

/// Variants, each read once.
pub(super) struct Ground<'a> {
    read: &'a mut ReadPoint<'a>,
    known: BTreeMap<Point, Option<Arc<PlanSet>>>,
    wanted: Wanted,
    /// For the chance in a section.
    yardstick: Option<Yardstick>,
    seed: u64,
    control: Control<'a>,
    /// Sessions fished so far.
    pub(super) sessions: u64,
}

impl<'a> Ground<'a> {
    pub(super) fn new(
        read: &'a mut ReadPoint<'a>,
        wanted: Wanted,
        yardstick: Option<Yardstick>,
        seed: u64,
        control: Control<'a>,
    ) -> Self {
        Self { read, known: BTreeMap::new(), wanted, yardstick, seed, control, sessions: 0 }
    }

    /// What a session is worth: its weight in kilograms; 1 where a target is reached, else 0; a chance.
    fn value(&self, outcome: &Outcome, day: u32) -> f64 {
        let kg = outcome.weight_g as f64 / 1000.0;
        match (self.wanted, &self.yardstick) {
            (Wanted::Target { target_kg }, _) => f64::from(u8::from(kg >= target_kg)),
            (_, Some(yardstick)) => yardstick.chance(kg, day),
            (_, None) => kg,
        }
    }

    fn variant(&mut self, point: &[usize]) -> Option<Arc<PlanSet>> {
        if let Some(known) = self.known.get(point) {
            return known.clone();
        }
        let read = (self.read)(point).map(Arc::new);
        self.known.insert(point.to_vec(), read.clone());
        read
    }
}

impl Trials for Ground<'_> {
    fn is_possible(&mut self, point: &[usize]) -> bool {
        self.variant(point).is_some()
    }

    fn values(&mut self, trials: &[Trial]) -> Option<Vec<Vec<f64>>> {
        let variants: Vec<Arc<PlanSet>> = trials
            .iter()
            .map(|trial| self.variant(&trial.point).expect("only possible points are tried"))
            .collect();
        let sessions: Vec<(&PlanSet, u32)> = (trials.iter().zip(&variants))
            .flat_map(|(trial, variant)| trial.days.clone().map(|day| (variant.as_ref(), day)))
            .collect();
        let (seed, control) = (self.seed, self.control);
        if let Some(yardstick) = &mut self.yardstick {
            let mut days: Vec<u32> = sessions.iter().map(|&(_, day)| day).collect();
            days.sort_unstable();
            days.dedup();
            self.sessions += yardstick.meet(&days, control)?;
        }
        let fished: Option<Vec<Outcome>> = sessions
            .par_iter()
            .map(|&(set, number)| {
                if control.is_stopped() {
                    return None;
                }
                let day = Day::draw(&set.scenario, seed, number);
                let outcome = fish_session(&set.scenario, &set.scenario.plans[set.plan], &day);
                control.progress.session_is_done();
                Some(outcome)
            })
            .collect();
        self.sessions += sessions.len() as u64;
        let fished = fished?;
        let mut fished = sessions.iter().zip(&fished).map(|(&(_, day), one)| self.value(one, day));
        Some(trials.iter().map(|trial| fished.by_ref().take(trial.days.len()).collect()).collect())
    }
}
