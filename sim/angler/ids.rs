//! Which bait, which hookbait, which plan: each a type of its own, so that none is taken for another.

use std::ops::{Index, IndexMut};

use super::plan::Plan;

/// A recipe, by its index among those of the scenario, the built-in ones first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RecipeId(pub usize);

/// A hookbait, by its index among those of the scenario, the built-in ones first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct HookbaitId(pub usize);

/// A plan, by its index among those of the scenario.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PlanId(pub usize);

impl PlanId {
    /// Every plan of a scenario with `count`.
    pub fn all(count: usize) -> impl Iterator<Item = Self> {
        (0..count).map(Self)
    }
}

impl Index<PlanId> for Vec<Plan> {
    type Output = Plan;

    fn index(&self, plan: PlanId) -> &Plan {
        &self[plan.0]
    }
}

impl IndexMut<PlanId> for Vec<Plan> {
    fn index_mut(&mut self, plan: PlanId) -> &mut Plan {
        &mut self[plan.0]
    }
}
