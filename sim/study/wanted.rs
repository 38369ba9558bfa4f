//! What a search is for: one number for each session, the larger the better.

use serde::Serialize;

use crate::session::Outcome;

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
}

impl Wanted {
    /// What a session is worth: its weight in kilograms, or 1 where the target is reached and 0 where not.
    #[must_use]
    pub fn value(self, outcome: &Outcome) -> f64 {
        let kg = outcome.weight_g as f64 / 1000.0;
        match self {
            Self::Weight => kg,
            Self::Target { target_kg } => f64::from(u8::from(kg >= target_kg)),
        }
    }

    /// A difference that is not worth telling apart, given the best mean so far: 2 % of a weight, 2 points of a
    /// chance.
    #[must_use]
    pub fn indifference(self, best_mean: f64) -> f64 {
        match self {
            Self::Weight => 0.02 * best_mean,
            Self::Target { .. } => 0.02,
        }
    }

    /// Whether values are chances.
    #[must_use]
    pub fn is_chance(self) -> bool {
        matches!(self, Self::Target { .. })
    }
}
