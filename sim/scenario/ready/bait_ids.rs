//! The lists that a recipe's and a hookbait's number count in.

use crate::angler::{HookbaitId, RecipeId};
use crate::bait::{Hookbait, HookbaitPrior, Recipe, RecipePrior};
use crate::engine::indexed_by;

indexed_by!(RecipeId: RecipePrior);
indexed_by!(RecipeId: Recipe);
indexed_by!(HookbaitId: HookbaitPrior);
indexed_by!(HookbaitId: Hookbait);
