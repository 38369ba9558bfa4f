//! An estimate with its 95 % interval, and the names of its numbers in documents.

use schemars::JsonSchema;
use serde::{Serialize, Serializer};

use super::units::{interval_kg, kg};
use crate::stats::{Interval, Proportion};

/// An estimate with its 95 % interval. Its unit is that of the field that holds it.
///
/// In a document the ends of the interval are `low95` and `high95`, and both are `null` if there is no interval. The
/// value is called `value`, or what fits the field: `mean`, `share`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// The estimate.
    pub value: f64,
    /// Its 95 % interval; `None` if there are too few days for one.
    pub interval: Option<Interval>,
}

impl Estimate {
    /// An estimate with the two ends of its interval.
    #[must_use]
    pub fn new(value: f64, low95: f64, high95: f64) -> Self {
        Self { value, interval: Some(Interval { low: low95, high: high95 }) }
    }

    /// An estimate in kilograms, from grams.
    pub(super) fn from_grams(value_g: f64, interval_g: Option<Interval>) -> Self {
        Self { value: kg(value_g), interval: interval_g.map(interval_kg) }
    }

    /// The same estimate of a weight, whose interval goes no lower than zero: no net weighs less than nothing.
    pub(super) fn of_weight(self) -> Self {
        let interval =
            self.interval.map(|interval| Interval { low: interval.low.max(0.0), ..interval });
        Self { interval, ..self }
    }

    /// Lower end of the interval.
    #[must_use]
    pub fn low95(&self) -> Option<f64> {
        self.interval.map(|interval| interval.low)
    }

    /// Upper end of the interval.
    #[must_use]
    pub fn high95(&self) -> Option<f64> {
        self.interval.map(|interval| interval.high)
    }

    /// The same estimate with the opposite sign: of b − a instead of a − b.
    #[must_use]
    pub fn negated(self) -> Self {
        let negated = |interval: Interval| Interval { low: -interval.high, high: -interval.low };
        Self { value: -self.value, interval: self.interval.map(negated) }
    }

    /// The estimate of the opposite event, from the estimate of a probability.
    #[must_use]
    pub fn complement(self) -> Self {
        let complement =
            |interval: Interval| Interval { low: 1.0 - interval.high, high: 1.0 - interval.low };
        Self { value: 1.0 - self.value, interval: self.interval.map(complement) }
    }
}

impl From<Proportion> for Estimate {
    fn from(proportion: Proportion) -> Self {
        Self { value: proportion.estimate, interval: Some(proportion.interval) }
    }
}

/// A shape in which an estimate is written: `#[serde(with = "…")]` on a field decides both the writing and the schema.
macro_rules! written_estimate {
    ($shape:ident, $about:literal, $value:ident: $meaning:literal, $unit:literal) => {
        #[doc = $about]
        #[derive(Serialize, JsonSchema)]
        pub(super) struct $shape {
            #[doc = concat!($meaning, $unit, ".")]
            $value: f64,
            #[doc = concat!("Lower end of the 95 % interval; `None` if there is none", $unit, ".")]
            low95: Option<f64>,
            #[doc = concat!("Upper end of the 95 % interval; `None` if there is none", $unit, ".")]
            high95: Option<f64>,
        }

        impl $shape {
            #[doc = concat!("Writes an estimate whose value is called `", stringify!($value), "`.")]
            pub(super) fn serialize<S: Serializer>(
                estimate: &Estimate,
                to: S,
            ) -> Result<S::Ok, S::Error> {
                let (low95, high95) = (estimate.low95(), estimate.high95());
                Serialize::serialize(&Self { $value: estimate.value, low95, high95 }, to)
            }
        }
    };
}

written_estimate!(MeanEstimate, "A mean with its 95 % interval.", mean: "Mean", "");
written_estimate!(
    ShareEstimate,
    "A share or probability with its 95 % interval.",
    share: "Share, from 0 to 1",
    " [share]"
);
written_estimate!(
    AimEstimate,
    "A value of an aim with its 95 % interval.",
    value: "Value of the aim: a weight or a probability, as `unit` says",
    " [kg or share]"
);
written_estimate!(
    UnknownsEstimate,
    "A share of the variance with its 95 % interval.",
    value: "Share of the variance of a day's weight that comes from what nobody knows about fish; the rest is days and luck",
    " [share]"
);

/// A share or probability with its 95 % interval, or `null`.
#[derive(JsonSchema)]
#[schemars(transparent, inline)]
pub(super) struct ShareOrNull(
    #[expect(dead_code, reason = "it names the schema")] Option<ShareEstimate>,
);

impl ShareOrNull {
    /// Writes an estimate whose value is called `share`, or `null`.
    pub(super) fn serialize<S: Serializer>(
        estimate: &Option<Estimate>,
        to: S,
    ) -> Result<S::Ok, S::Error> {
        match estimate {
            Some(estimate) => ShareEstimate::serialize(estimate, to),
            None => to.serialize_none(),
        }
    }
}

/// Ends of a 95 % interval.
#[derive(Serialize, JsonSchema)]
struct IntervalEnds {
    /// Lower end of the 95 % interval.
    low95: f64,
    /// Upper end of the 95 % interval.
    high95: f64,
}

/// Ends of a 95 % interval, or `null`.
#[derive(JsonSchema)]
#[schemars(transparent, inline)]
pub(super) struct EndsOrNull(
    #[expect(dead_code, reason = "it names the schema")] Option<IntervalEnds>,
);

impl EndsOrNull {
    /// Writes the ends of an interval, or `null`.
    pub(super) fn serialize<S: Serializer>(
        interval: &Option<Interval>,
        to: S,
    ) -> Result<S::Ok, S::Error> {
        let ends = interval.map(|Interval { low, high }| IntervalEnds { low95: low, high95: high });
        Serialize::serialize(&ends, to)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(serde::Serialize)]
    struct Document {
        #[serde(with = "MeanEstimate")]
        single_day_kg: Estimate,
        #[serde(with = "ShareOrNull")]
        chance: Option<Estimate>,
        #[serde(with = "EndsOrNull")]
        decile_kg: Option<Interval>,
        #[serde(flatten, with = "AimEstimate")]
        result: Estimate,
    }

    #[test]
    fn an_estimate_is_written_with_the_name_that_fits_the_field() {
        let mut document = Document {
            single_day_kg: Estimate { value: 1.5, interval: None },
            chance: Some(Estimate::new(0.5, 0.25, 0.75)),
            decile_kg: Some(Interval { low: 1.0, high: 2.0 }),
            result: Estimate::new(3.0, 2.0, 4.0),
        };
        assert_eq!(
            serde_json::to_string(&document).expect("plain numbers"),
            r#"{"single_day_kg":{"mean":1.5,"low95":null,"high95":null},"chance":{"share":0.5,"low95":0.25,"high95":0.75},"decile_kg":{"low95":1.0,"high95":2.0},"value":3.0,"low95":2.0,"high95":4.0}"#
        );
        (document.chance, document.decile_kg) = (None, None);
        let written = serde_json::to_string(&document).expect("plain numbers");
        assert!(written.contains(r#""chance":null,"decile_kg":null"#), "{written}");
    }

    #[test]
    fn the_interval_of_a_weight_does_not_go_below_zero() {
        assert_eq!(Estimate::new(1.0, -0.5, 2.5).of_weight(), Estimate::new(1.0, 0.0, 2.5));
        assert_eq!(Estimate::new(3.0, 2.0, 4.0).of_weight(), Estimate::new(3.0, 2.0, 4.0));
    }

    #[test]
    fn an_estimate_is_seen_from_the_other_side() {
        assert_eq!(Estimate::new(1.0, -0.5, 2.5).negated(), Estimate::new(-1.0, -2.5, 0.5));
        assert_eq!(Estimate::new(0.75, 0.5, 1.0).complement(), Estimate::new(0.25, 0.0, 0.5));
    }
}
