//! Values of baits and hookbaits that differ from day to day, as far as a plan uses them.

use super::Scenario;
use super::uncertain_inputs::varies;
use crate::bait::{BaitValue, HookbaitPrior, RecipePrior};

impl Scenario {
    /// Which recipes and which hookbaits any plan uses, in any phase or rule.
    fn baits_in_use(&self) -> [Vec<bool>; 2] {
        let mut recipes = vec![false; self.recipes.len()];
        let mut hookbaits = vec![false; self.hookbaits.len()];
        for plan in &self.plans {
            for phase in &plan.phases {
                recipes[phase.tackle.recipe.0] = true;
                hookbaits[phase.tackle.hookbait.0] = true;
                phase.loose_feed.iter().for_each(|feed| recipes[feed.recipe.0] = true);
            }
            for change in plan.rules.list.iter().map(|rule| &rule.change) {
                let thrown = change.feeds.iter().filter_map(|feed| feed.recipe);
                thrown.chain(change.tackle.recipe).for_each(|recipe| recipes[recipe.0] = true);
                change
                    .tackle
                    .hookbait
                    .into_iter()
                    .for_each(|hookbait| hookbaits[hookbait.0] = true);
            }
        }
        [recipes, hookbaits]
    }

    /// Every value of a bait or hookbait in use that differs from day to day, once for each origin.
    #[must_use]
    pub fn bait_values(&self) -> Vec<&BaitValue> {
        let [recipes, hookbaits] = self.baits_in_use();
        let recipes = self.recipes.iter().zip(recipes).filter(|(_, used)| *used);
        let hookbaits = self.hookbaits.iter().zip(hookbaits).filter(|(_, used)| *used);
        let mut values: Vec<&BaitValue> = Vec::new();
        let all = recipes.flat_map(|(recipe, _)| recipe.values());
        for value in all.chain(hookbaits.flat_map(|(hookbait, _)| hookbait.values())) {
            if varies(value.spread) && values.iter().all(|known| known.origin != value.origin) {
                values.push(value);
            }
        }
        values
    }

    /// Every value of every bait and hookbait, to change them.
    pub(super) fn all_bait_values_mut(&mut self) -> impl Iterator<Item = &mut BaitValue> {
        let recipes = self.recipes.iter_mut().flat_map(RecipePrior::values_mut);
        recipes.chain(self.hookbaits.iter_mut().flat_map(HookbaitPrior::values_mut))
    }
}
