//! Which bait and which hookbait: each a type of its own, so that neither is taken for the other.

/// A recipe, by its index among those of the scenario, the built-in ones first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RecipeId(pub usize);

/// A hookbait, by its index among those of the scenario, the built-in ones first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct HookbaitId(pub usize);
