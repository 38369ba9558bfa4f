//! What a search is for: one number for each session, the larger the better.

use serde::Serialize;

/// What is wanted of a plan.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(tag = "aim", rename_all = "lowercase")]
pub enum Wanted {
    /// The mean weight [kg].
    Weight,
    /// The chance of a weight or more, from 0 to 1.
    Target {
        /// The weight.
        target_kg: f64,
    },
    /// The chance to win the scenario's section, from 0 to 1.
    Win {
        /// Rivals in it.
        rivals: u32,
    },
    /// The chance to be among the first places of the section, from 0 to 1.
    Frame {
        /// Rivals in it.
        rivals: u32,
        /// Places that are good enough.
        places: u32,
    },
}

impl Wanted {
    /// A difference that is not worth telling apart, given the best mean so far: 2 % of a weight, 2 points of a
    /// chance.
    #[must_use]
    pub fn indifference(self, best_mean: f64) -> f64 {
        match self {
            Self::Weight => 0.02 * best_mean,
            _ => 0.02,
        }
    }

    /// Whether values are chances.
    #[must_use]
    pub fn is_chance(self) -> bool {
        self != Self::Weight
    }

    /// The places of a section that are good enough, where it is for one.
    pub(super) fn places(self) -> Option<u32> {
        match self {
            Self::Weight | Self::Target { .. } => None,
            Self::Win { .. } => Some(1),
            Self::Frame { places, .. } => Some(places),
        }
    }
}
