//! Tackle: where and how the rod is fished, and what a rule may change of it.

use super::end_tackle::EndTackle;
use super::ids::{HookbaitId, RecipeId};
use crate::water::LineId;

/// Where and how the rod is fished.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Tackle {
    /// The line fished.
    pub line: LineId,
    /// Longest time from one cast to winding it in [s].
    pub recast_s: f64,
    /// Load on the feeder [kg]; zero fishes a bare lead.
    pub load_kg: f64,
    /// Mass of feeder or lead without load [kg].
    pub feeder_kg: f64,
    /// The recipe on the feeder.
    pub recipe: RecipeId,
    /// Whether the hookbait is buried in the load, rather than on top.
    pub buried: bool,
    /// How hard the load is pressed: 1 is ordinary, a harder load opens later.
    pub compression: f64,
    /// The hookbait.
    pub hookbait: HookbaitId,
    /// Line and hook.
    pub end: EndTackle,
}

/// A change of the tackle; `None` leaves a choice as it is.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct TackleChange {
    /// As [`Tackle::line`].
    pub line: Option<LineId>,
    /// As [`Tackle::recast_s`].
    pub recast_s: Option<f64>,
    /// As [`Tackle::load_kg`].
    pub load_kg: Option<f64>,
    /// As [`Tackle::feeder_kg`].
    pub feeder_kg: Option<f64>,
    /// As [`Tackle::recipe`].
    pub recipe: Option<RecipeId>,
    /// As [`Tackle::buried`].
    pub buried: Option<bool>,
    /// As [`Tackle::compression`].
    pub compression: Option<f64>,
    /// As [`Tackle::hookbait`].
    pub hookbait: Option<HookbaitId>,
    /// As [`Tackle::end`]; what is `None` stays as it is.
    pub end: EndTackle,
}

impl TackleChange {
    /// The tackle with this change applied.
    #[must_use]
    pub fn applied_to(&self, tackle: Tackle) -> Tackle {
        Tackle {
            line: self.line.unwrap_or(tackle.line),
            recast_s: self.recast_s.unwrap_or(tackle.recast_s),
            load_kg: self.load_kg.unwrap_or(tackle.load_kg),
            feeder_kg: self.feeder_kg.unwrap_or(tackle.feeder_kg),
            recipe: self.recipe.unwrap_or(tackle.recipe),
            buried: self.buried.unwrap_or(tackle.buried),
            compression: self.compression.unwrap_or(tackle.compression),
            hookbait: self.hookbait.unwrap_or(tackle.hookbait),
            end: self.end.or(tackle.end),
        }
    }

    /// Whether both change some choice, and to different values: it then matters which is applied last.
    #[must_use]
    pub fn contradicts(&self, other: &Self) -> bool {
        let tackle = Tackle::default();
        self.applied_to(other.applied_to(tackle)) != other.applied_to(self.applied_to(tackle))
    }
}
