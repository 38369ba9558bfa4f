//! The names that a plan may refer to: lines, baits and hookbaits, each standing for its index.

use crate::bait::{Hookbait, Recipe};
use crate::water::Line;

/// The lines, baits and hookbaits of a scenario, and the length of its session [s].
pub(crate) struct Names<'a> {
    pub(crate) lines: &'a [Line],
    pub(crate) recipes: &'a [Recipe],
    pub(crate) hookbaits: &'a [Hookbait],
    pub(crate) session_s: f64,
}
