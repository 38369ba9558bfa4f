//! The lists that a recipe's and a hookbait's number count in.

use std::ops::Index;

use crate::angler::{HookbaitId, RecipeId};
use crate::bait::{Hookbait, HookbaitPrior, Recipe, RecipePrior};

impl Index<RecipeId> for Vec<RecipePrior> {
    type Output = RecipePrior;

    fn index(&self, recipe: RecipeId) -> &RecipePrior {
        &self[recipe.0]
    }
}

impl Index<RecipeId> for Vec<Recipe> {
    type Output = Recipe;

    fn index(&self, recipe: RecipeId) -> &Recipe {
        &self[recipe.0]
    }
}

impl Index<HookbaitId> for Vec<HookbaitPrior> {
    type Output = HookbaitPrior;

    fn index(&self, hookbait: HookbaitId) -> &HookbaitPrior {
        &self[hookbait.0]
    }
}

impl Index<HookbaitId> for Vec<Hookbait> {
    type Output = Hookbait;

    fn index(&self, hookbait: HookbaitId) -> &Hookbait {
        &self[hookbait.0]
    }
}
