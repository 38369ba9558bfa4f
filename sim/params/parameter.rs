//! One parameter: its meaning, unit, value, range, prior and source.

use std::fmt;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::daily_distribution::normal_score;
use crate::engine::Dice;
use crate::numerics::{exp, ln, normal_cumulative};

/// How well a value is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Grade {
    /// Published for carp; the source was read.
    Carp,
    /// Published for other fish, or a general law.
    General,
    /// Remembered from the literature; the source was not checked.
    Memory,
    /// Common practice among anglers; no source.
    Practice,
    /// Assumed: nobody has measured it.
    Assumed,
}

impl fmt::Display for Grade {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Carp => "carp",
            Self::General => "general",
            Self::Memory => "memory",
            Self::Practice => "practice",
            Self::Assumed => "assumed",
        })
    }
}

/// Distribution of an uncertain value: how it is drawn for each day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Prior {
    /// The same every day: a definition, a physical law, or a value that was set.
    Fixed,
    /// Normal with the central value as median. On each side, the end of the range is two standard deviations away.
    Normal,
    /// Normal in the same way for the logarithm of the value.
    LogNormal,
}

impl fmt::Display for Prior {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Fixed => "fixed",
            Self::Normal => "normal",
            Self::LogNormal => "lognormal",
        })
    }
}

/// One row of a book.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Parameter {
    /// Name within the book. It ends with the unit.
    #[serde(skip)]
    pub key: String,
    /// What the number is, in plain words.
    #[serde(rename = "says")]
    pub meaning: String,
    /// Unit as printed; empty for a ratio or a count.
    #[serde(default)]
    pub unit: String,
    /// Central value [in unit].
    pub value: f64,
    /// Lowest and highest plausible value [in unit].
    pub range: [f64; 2],
    /// How it is drawn for each day.
    pub prior: Prior,
    /// How well it is known.
    pub grade: Grade,
    /// Keys of the bibliography, separated by spaces. Empty if nothing is published.
    #[serde(default)]
    pub source: String,
    /// Reason for this value and range.
    #[serde(default)]
    pub note: String,
}

impl Parameter {
    /// Draws one day's value.
    ///
    /// It always uses exactly one random number, even for a fixed row. Fixing one row therefore leaves the other rows
    /// of the day unchanged.
    pub fn draw(&self, dice: &mut Dice) -> f64 {
        self.quantile(dice.uniform())
    }

    /// Quantile `u` of the prior.
    #[must_use]
    pub fn quantile(&self, u: f64) -> f64 {
        let z = normal_score(u);
        let [low, high] = self.range;
        let (median, low, high, inverse): (f64, f64, f64, fn(f64) -> f64) = match self.prior {
            Prior::Fixed => return self.value,
            Prior::Normal => (self.value, low, high, |x| x),
            Prior::LogNormal => (ln(self.value), ln(low), ln(high), exp),
        };
        let side = if z < 0.0 { median - low } else { high - median };
        inverse((median + 0.5 * z * side).clamp(low, high)).clamp(self.range[0], self.range[1])
    }

    /// The standard normal score of a value within the range: −2 and 2 at its ends, zero for a fixed row.
    #[must_use]
    pub fn score_of(&self, value: f64) -> f64 {
        let [low, high] = self.range;
        let (value, median, low, high) = match self.prior {
            Prior::Fixed => return 0.0,
            Prior::Normal => (value, self.value, low, high),
            Prior::LogNormal => (ln(value), ln(self.value), ln(low), ln(high)),
        };
        let side = if value < median { median - low } else { high - median };
        if side > 0.0 { 2.0 * (value - median) / side } else { 0.0 }
    }

    /// The value with a standard normal score; beyond the range it is its end.
    #[must_use]
    pub fn value_at_score(&self, score: f64) -> f64 {
        self.quantile(normal_cumulative(score))
    }
}

/// Reason why a user's value was rejected.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum PinError {
    /// There is no such row.
    #[error("no such parameter")]
    UnknownRow,
    /// The value is outside the row's range.
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
