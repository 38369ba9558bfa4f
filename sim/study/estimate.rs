//! An estimate with its 95 % interval, and the names of its numbers in documents.

use serde::ser::{Serialize, SerializeStruct, Serializer};

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

impl Serialize for Estimate {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        write(self, "value", to)
    }
}

/// Writes an estimate whose value is called `mean`.
pub(super) fn as_mean<S: Serializer>(estimate: &Estimate, to: S) -> Result<S::Ok, S::Error> {
    write(estimate, "mean", to)
}

/// Writes an estimate whose value is called `share`.
pub(super) fn as_share<S: Serializer>(estimate: &Estimate, to: S) -> Result<S::Ok, S::Error> {
    write(estimate, "share", to)
}

/// Writes an estimate whose value is called `share`, or `null`.
pub(super) fn as_share_or_null<S: Serializer>(
    estimate: &Option<Estimate>,
    to: S,
) -> Result<S::Ok, S::Error> {
    match estimate {
        Some(estimate) => as_share(estimate, to),
        None => to.serialize_none(),
    }
}

/// Writes the ends of an interval, or `null`.
pub(super) fn interval_or_null<S: Serializer>(
    interval: &Option<Interval>,
    to: S,
) -> Result<S::Ok, S::Error> {
    let Some(interval) = interval else { return to.serialize_none() };
    let mut fields = to.serialize_struct("Interval", 2)?;
    fields.serialize_field("low95", &interval.low)?;
    fields.serialize_field("high95", &interval.high)?;
    fields.end()
}

fn write<S: Serializer>(
    estimate: &Estimate,
    value_name: &'static str,
    to: S,
) -> Result<S::Ok, S::Error> {
    let mut fields = to.serialize_struct("Estimate", 3)?;
    fields.serialize_field(value_name, &estimate.value)?;
    fields.serialize_field("low95", &estimate.low95())?;
    fields.serialize_field("high95", &estimate.high95())?;
    fields.end()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(serde::Serialize)]
    struct Document {
        #[serde(serialize_with = "as_mean")]
        single_day_kg: Estimate,
        #[serde(serialize_with = "as_share_or_null")]
        chance: Option<Estimate>,
        #[serde(serialize_with = "interval_or_null")]
        decile_kg: Option<Interval>,
        #[serde(flatten)]
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
    fn an_estimate_is_seen_from_the_other_side() {
        assert_eq!(Estimate::new(1.0, -0.5, 2.5).negated(), Estimate::new(-1.0, -2.5, 0.5));
        assert_eq!(Estimate::new(0.75, 0.5, 1.0).complement(), Estimate::new(0.25, 0.0, 0.5));
    }
}
