//! One plan's weights over all days, kept exactly.

use super::result::{DecilesKg, Ends, WeightKg};
use crate::stats::{Moments, quantile, quantile_ranks};

/// Days' weights: their exact sums, and each day's own in four bytes.
///
/// The days' own weights are what exact quantiles and later pairings need. They are the one thing in a study
/// that grows with the number of days: a million days of ten plans take 40 MB.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Weights {
    moments_g: Moments,
    days_g: Vec<u32>,
}

/// Grams as kilograms [kg].
pub(super) fn kg(grams: f64) -> f64 {
    grams / 1000.0
}

impl Weights {
    /// Takes in one day [g]; a day above 4,294 tonnes counts as that.
    pub(super) fn add(&mut self, weight_g: u64) {
        let weight_g = u32::try_from(weight_g).unwrap_or(u32::MAX);
        self.moments_g.add(i64::from(weight_g));
        self.days_g.push(weight_g);
    }

    /// Number, sum and sum of squares [g].
    pub(super) fn moments_g(&self) -> &Moments {
        &self.moments_g
    }

    /// Each day's weight, in the order of the days [g].
    pub(super) fn days_g(&self) -> &[u32] {
        &self.days_g
    }

    /// Mean, standard error and deciles; not a number where there were too few days.
    pub(super) fn summary_kg(&self) -> WeightKg {
        let mut sorted = self.days_g.clone();
        sorted.sort_unstable();
        let of = |p| quantile(&sorted, p).map_or(f64::NAN, kg);
        WeightKg {
            mean: self.moments_g.mean().map_or(f64::NAN, kg),
            se: self.moments_g.se().map_or(f64::NAN, kg),
            p10: of(0.1),
            p50: of(0.5),
            p90: of(0.9),
        }
    }

    /// How surely the deciles are known.
    pub(super) fn deciles_kg(&self) -> DecilesKg {
        let mut sorted = self.days_g.clone();
        sorted.sort_unstable();
        let of = |p| {
            let ranks = quantile_ranks(sorted.len(), p, 0.95)?;
            let at = |rank: usize| kg(f64::from(sorted[rank - 1]));
            Some(Ends { low95: at(ranks.low), high95: at(ranks.high) })
        };
        DecilesKg { p10: of(0.1), p50: of(0.5), p90: of(0.9) }
    }
}
