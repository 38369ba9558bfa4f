//! The names that a plan may use: lines, baits and hookbaits, each standing for its index.

use crate::angler::{HookbaitId, RecipeId};
use crate::bait::{HookbaitPrior, RecipePrior};
use crate::scenario::diagnose::quoted;
use crate::water::{Line, LineId};

/// The lines, baits and hookbaits of a scenario, and the length of its session.
pub(crate) struct Names<'a> {
    /// Lines, in the order of the file.
    pub(crate) lines: &'a [Line],
    /// Baits, the built-in ones first.
    pub(crate) recipes: &'a [RecipePrior],
    /// Hookbaits, the built-in ones first.
    pub(crate) hookbaits: &'a [HookbaitPrior],
    /// Length of the session [s].
    pub(crate) session_s: f64,
}

impl Names<'_> {
    /// The line of a name. `None` if there is none of that name.
    pub(crate) fn line(&self, name: &str) -> Option<LineId> {
        self.lines.iter().position(|line| line.name == name).map(LineId)
    }

    /// The bait of a name. `None` if there is none of that name.
    pub(crate) fn recipe(&self, name: &str) -> Option<RecipeId> {
        self.recipes.iter().position(|recipe| recipe.name == name).map(RecipeId)
    }

    /// The hookbait of a name. `None` if there is none of that name.
    pub(crate) fn hookbait(&self, name: &str) -> Option<HookbaitId> {
        self.hookbaits.iter().position(|hookbait| hookbait.name == name).map(HookbaitId)
    }

    /// The name of a line in quotation marks.
    pub(crate) fn quoted_line(&self, line: LineId) -> String {
        quoted(self.lines.get(line.0).map_or("", |line| &line.name))
    }
}
