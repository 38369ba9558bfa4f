//! One parameter: what it says, its unit, value, range, prior and where it is from.

use serde::{Deserialize, Serialize};

use crate::engine::Dice;

/// How well a value is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Grade {
    /// Published for carp, and looked up.
    Carp,
    /// Published for another fish, or a general law.
    General,
    /// Remembered from the literature; the page was not checked.
    Memory,
    /// Common practice of the trade, no source.
    Practice,
    /// Assumed by us: nobody has measured it.
    Assumed,
}

/// How a value differs from day to day, because nobody knows it better.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Prior {
    /// Not drawn: a definition, a law of physics, or held still on purpose.
    Fixed,
    /// Normal about the value, the range holding 95 %, clipped at the range.
    Normal,
    /// Lognormal about the value as median, the range holding 95 %, clipped at the range.
    LogNormal,
}

/// One row of a book.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Row {
    /// Name within the book; it ends with its unit.
    #[serde(skip)]
    pub key: String,
    /// What the number is, in plain words.
    pub says: String,
    /// Unit as printed; empty for a ratio or a count.
    #[serde(default)]
    pub unit: String,
    /// Central value.
    pub value: f64,
    /// Lowest and highest value that make sense.
    pub range: [f64; 2],
    /// How it is drawn day by day.
    pub prior: Prior,
    /// How well it is known.
    pub grade: Grade,
    /// Keys of the bibliography, separated by spaces; empty where nothing is published.
    #[serde(default)]
    pub source: String,
    /// Why this value and this range.
    #[serde(default)]
    pub note: String,
}

impl Row {
    /// One day's value of a row that nobody has pinned; uses one number unless the row is fixed.
    pub fn draw(&self, dice: &mut Dice) -> f64 {
        let [low, high] = self.range;
        match self.prior {
            Prior::Fixed => self.value,
            Prior::Normal => (self.value + 0.25 * (high - low) * dice.normal()).clamp(low, high),
            Prior::LogNormal => {
                dice.lognormal(self.value, 0.25 * (high / low).ln()).clamp(low, high)
            }
        }
    }
}

/// Why a user's own value was not taken.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Unset {
    /// There is no such row.
    #[error("no such parameter")]
    NoSuchRow,
    /// The value lies outside what makes sense.
    #[error("{value} is outside {low} to {high} {unit}")]
    OutOfRange {
        /// The value given.
        value: f64,
        /// Lowest allowed.
        low: f64,
        /// Highest allowed.
        high: f64,
        /// The row's unit.
        unit: String,
    },
}
