//! Indices of baits, hookbaits and plans, each a type of its own, so that none is taken for another.

/// A recipe, by its index among those of the scenario, the built-in ones first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RecipeId(pub usize);

/// A hookbait, by its index among those of the scenario, the built-in ones first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct HookbaitId(pub usize);
