//! The weights of one plan over all days, kept exactly.

use super::plan_result::{DecilesKg, WeightKg};
use crate::stats::{Interval, Moments, quantile, quantile_ranks};
use crate::study::units::kg;

/// Weights of all days: their exact sums, and each day's weight in four bytes.
///
/// The single days are needed for exact quantiles and for pairing. They are the one part of a study whose memory
/// grows with the number of days: a million days of ten plans take 40 MB.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Weights {
    moments_g: Moments,
    days_g: Vec<u32>,
}

impl Weights {
    /// Adds one day [g]; a weight above 4,294 tonnes counts as 4,294 tonnes.
    pub(super) fn add(&mut self, weight_g: u64) {
        let weight_g = u32::try_from(weight_g).unwrap_or(u32::MAX);
        self.moments_g.add(i64::from(weight_g));
        self.days_g.push(weight_g);
    }

    /// Number, sum and sum of squares [g].
    pub(super) fn moments_g(&self) -> &Moments {
        &self.moments_g
    }

    /// Weight of each day, in the order of the days [g].
    pub(super) fn days_g(&self) -> &[u32] {
        &self.days_g
    }

    /// Mean, standard error and deciles, with intervals for the deciles. `None` without days.
    pub(super) fn summary_kg(&self) -> Option<(WeightKg, DecilesKg)> {
        let mut sorted_g = self.days_g.clone();
        sorted_g.sort_unstable();
        let decile_kg = |p| quantile(&sorted_g, p).map(kg);
        let weight_kg = WeightKg {
            mean: kg(self.moments_g.mean()?),
            se: self.moments_g.se().map(kg),
            p10: decile_kg(0.1)?,
            p50: decile_kg(0.5)?,
            p90: decile_kg(0.9)?,
        };
        let interval_kg = |p| {
            let ranks = quantile_ranks(sorted_g.len(), p, 0.95)?;
            let weight_kg = |rank: usize| kg(f64::from(sorted_g[rank - 1]));
            Some(Interval { low: weight_kg(ranks.low), high: weight_kg(ranks.high) })
        };
        let between =
            DecilesKg { p10: interval_kg(0.1), p50: interval_kg(0.5), p90: interval_kg(0.9) };
        Some((weight_kg, between))
    }
}
