//! Objective of a search: one number per session, the larger the better.

use schemars::JsonSchema;
use serde::Serialize;

/// What a search maximises.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "aim", rename_all = "lowercase")]
pub enum Objective {
    /// The mean weight [kg].
    Weight,
    /// The probability of a target weight or more, from 0 to 1.
    Target {
        /// Target weight [kg].
        target_kg: f64,
    },
    /// The probability of winning the scenario's section, from 0 to 1.
    Win {
        /// Number of rivals in the section.
        rivals: u32,
    },
    /// The probability of being among the first places of the section, from 0 to 1.
    Frame {
        /// Number of rivals in the section.
        rivals: u32,
        /// Number of places that frame.
        places: u32,
    },
}

impl Objective {
    /// Indifference zone: a difference too small to matter, given the best mean so far. It is 2 % of a weight, or 2
    /// percentage points of a probability.
    #[must_use]
    pub fn indifference_zone(self, best_mean: f64) -> f64 {
        match self {
            Self::Weight => 0.02 * best_mean,
            _ => 0.02,
        }
    }

    /// Whether values are probabilities.
    #[must_use]
    pub fn is_probability(self) -> bool {
        self != Self::Weight
    }

    /// Number of places of a section that are good enough. `None` if the objective does not concern a section.
    pub(super) fn places(self) -> Option<u32> {
        match self {
            Self::Weight | Self::Target { .. } => None,
            Self::Win { .. } => Some(1),
            Self::Frame { places, .. } => Some(places),
        }
    }
}
