//! The columns by which casts can be grouped.

use crate::catch_log::LoggedCast;

/// A column by which casts are grouped.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GroupBy {
    /// By the line that they were cast to.
    Line,
    /// Hookbait or recipe.
    Bait,
    /// What the feeder held.
    Feeder,
}

impl GroupBy {
    /// Its name: that of the column.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Line => "line",
            Self::Bait => "bait",
            Self::Feeder => "feeder",
        }
    }

    /// The value of a cast; empty if it is not written down.
    pub(super) fn value(self, cast: &LoggedCast) -> String {
        match self {
            Self::Line => cast.line.clone(),
            Self::Bait => cast.bait.clone(),
            Self::Feeder => {
                let grams = |kg: f64| format!("{} g", (1000.0 * kg).round());
                cast.feeder_kg.map_or_else(|| "no feeder".to_owned(), grams)
            }
        }
    }
}
