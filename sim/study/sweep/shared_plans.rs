//! Plans that are the same at several points of a sweep: their sessions are fished once.
//!
//! A key `plan.NAME.…` touches only the plan of that name, and a session depends on its own plan, the day and the water.

use std::collections::{BTreeMap, BTreeSet};

use super::block::{BlockRow, FinishedUnit, WorkUnit};
use super::design::Design;
use super::touched_plans::plan_of_key;
use crate::angler::PlanId;

/// Sessions of a plan that are the same at several points: the plan, the first of these points, first and last day.
type SharedKey = (PlanId, usize, u32, u32);

/// For each plan, the first point at which it is as at each point.
#[derive(Debug)]
struct SharedPlans {
    /// `None` for a plan that is another one at every point.
    first_points: Vec<Option<Vec<usize>>>,
}

impl SharedPlans {
    fn new(plans: &[String], design: &Design) -> Self {
        let (keys, points) = (&design.keys, &design.points);
        let first_points = |plan: &String| {
            let touches = |key: &String| plan_of_key(key).is_none_or(|name| name == plan);
            let touching: Vec<usize> =
                (0..keys.len()).filter(|&index| touches(&keys[index])).collect();
            if touching.len() == keys.len() {
                return None;
            }
            let mut known: BTreeMap<Vec<&str>, usize> = BTreeMap::new();
            let mut first = Vec::with_capacity(points.len());
            for (point, values) in points.iter().enumerate() {
                let own = touching.iter().map(|&index| values[index].as_str()).collect();
                first.push(*known.entry(own).or_insert(point));
            }
            Some(first)
        };
        Self { first_points: plans.iter().map(first_points).collect() }
    }

    fn key(&self, unit: WorkUnit, plan: PlanId) -> Option<SharedKey> {
        let first = self.first_points[plan.0].as_ref()?[unit.point];
        Some((plan, first, unit.from, unit.to))
    }
}

/// What has been fished, in the order of the units of work.
#[derive(Debug)]
pub(super) struct SharedSessions {
    plans: SharedPlans,
    /// First day of the last unit of work.
    from: u32,
    /// Sessions that are to be fished, or are fished.
    begun: BTreeSet<SharedKey>,
    fished: BTreeMap<SharedKey, BlockRow>,
}

impl SharedSessions {
    pub(super) fn new(plans: &[String], design: &Design) -> Self {
        let plans = SharedPlans::new(plans, design);
        Self { plans, from: 0, begun: BTreeSet::new(), fished: BTreeMap::new() }
    }

    /// The plans that must be fished for the next unit of work.
    pub(super) fn plans_to_fish(&mut self, unit: WorkUnit) -> Vec<PlanId> {
        // All points come with the same days before any comes with later ones.
        if unit.from > self.from {
            self.begun.retain(|&(_, _, _, to)| to >= unit.from);
        }
        self.from = unit.from;
        let is_new = |&plan: &PlanId| match self.plans.key(unit, plan) {
            Some(key) => self.begun.insert(key),
            None => true,
        };
        PlanId::all(self.plans.first_points.len()).filter(is_new).collect()
    }

    /// Forgets the sessions of days before `day`.
    pub(super) fn forget_before(&mut self, day: u32) {
        self.fished.retain(|&(_, _, _, to), _| to >= day);
    }

    /// Adds the rows of the plans that were fished for an earlier unit.
    pub(super) fn complete(&mut self, finished: &mut FinishedUnit, unit: WorkUnit) {
        for row in &finished.rows {
            if let Some(key) = self.plans.key(unit, row.plan) {
                self.fished.insert(key, row.clone());
            }
        }
        for plan in PlanId::all(self.plans.first_points.len()) {
            let is_there = finished.rows.iter().any(|row| row.plan == plan);
            let key = self.plans.key(unit, plan).filter(|_| !is_there);
            if let Some(row) = key.and_then(|key| self.fished.get(&key)) {
                finished.rows.push(BlockRow { unit, ..row.clone() });
            }
        }
        finished.rows.sort_by_key(|row| row.plan);
    }
}
