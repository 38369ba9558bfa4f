//! One parameter: what it says, its unit, value, range, prior and where it is from.

use serde::{Deserialize, Serialize};

use super::spread::normal_score;
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
    /// Normal about the value as median; each side reaches its end of the range at two standard deviations.
    Normal,
    /// The same in the logarithm.
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
    /// One day's value.
    ///
    /// Always uses exactly one number, pinned or not, so that pinning one row leaves every other row of
    /// the day as it was.
    pub fn draw(&self, dice: &mut Dice) -> f64 {
        self.quantile(dice.uniform())
    }

    /// The value below which a share `u` of its prior lies.
    #[must_use]
    pub fn quantile(&self, u: f64) -> f64 {
        let z = normal_score(u);
        let [low, high] = self.range;
        let (value, low, high, back): (f64, f64, f64, fn(f64) -> f64) = match self.prior {
            Prior::Fixed => return self.value,
            Prior::Normal => (self.value, low, high, |x| x),
            Prior::LogNormal => (self.value.ln(), low.ln(), high.ln(), f64::exp),
        };
        let reach = if z < 0.0 { value - low } else { high - value };
        back((value + 0.5 * z * reach).clamp(low, high)).clamp(self.range[0], self.range[1])
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
