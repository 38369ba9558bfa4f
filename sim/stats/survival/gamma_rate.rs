//! Event rates: by maximum likelihood, and with a gamma prior, over all time or piece by piece.

use statrs::distribution::{ContinuousCDF, Gamma};

use super::censored_time::CensoredTime;
use crate::numerics::powf;
use crate::stats::inference::Interval;

/// A constant event rate with its standard error.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ExponentialRate {
    /// Events per unit of time.
    pub rate: f64,
    /// Standard error from the observed information, rate/√d.
    pub se: f64,
}

/// Maximum likelihood rate of exponential times with censoring: events over total time. `None` without events.
///
/// - **Checked by** V-307 (published trial).
pub fn exponential_rate(times: &[CensoredTime]) -> Option<ExponentialRate> {
    let events = times.iter().filter(|time| time.is_event).count() as f64;
    let exposure: f64 = times.iter().map(|time| time.time).sum();
    let rate = events / exposure;
    (events > 0.0 && rate.is_finite()).then(|| ExponentialRate { rate, se: rate / events.sqrt() })
}

/// What is known of a rate: a gamma distribution, as if `shape` events had been seen in `exposure` time.
///
/// - **Checked by** V-308.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GammaRate {
    /// Shape: number of events.
    pub shape: f64,
    /// Inverse scale: time in which they were seen.
    pub exposure: f64,
}

impl GammaRate {
    /// Jeffreys' prior of a rate, which carries as little weight as possible: half an event in no time.
    pub const JEFFREYS: Self = Self { shape: 0.5, exposure: 0.0 };

    /// The same with `events` more events in `exposure` more time.
    pub fn updated(&self, events: u64, exposure: f64) -> Self {
        Self { shape: self.shape + events as f64, exposure: self.exposure + exposure }
    }

    /// Mean rate.
    pub fn mean(&self) -> f64 {
        self.shape / self.exposure
    }

    /// Interval that holds the rate with probability `level`, with equal tails. `None` without any time.
    pub fn interval(&self, level: f64) -> Option<Interval> {
        let gamma = Gamma::new(self.shape, self.exposure).ok()?;
        let tail = 0.5 * (1.0 - level);
        Some(Interval { low: gamma.inverse_cdf(tail), high: gamma.inverse_cdf(1.0 - tail) })
    }

    /// Probability of no event within `time`, the doubt about the rate included: (b/(b + t))^a.
    pub fn predictive_survival(&self, time: f64) -> f64 {
        powf(self.exposure / (self.exposure + time), self.shape)
    }
}

/// Rates that are constant between cuts, each with its own gamma distribution; exact under censoring.
#[derive(Clone, Debug, PartialEq)]
pub struct PiecewiseRates {
    /// Beginning of each piece; the first is 0, the last piece has no end.
    pub starts: Vec<f64>,
    /// Events in each piece.
    pub events: Vec<u64>,
    /// Total time spent in each piece.
    pub exposures: Vec<f64>,
    /// The rate in each piece.
    pub rates: Vec<GammaRate>,
}

impl PiecewiseRates {
    /// Updates the same `prior` in every piece. `cuts` are in ascending order and above zero; an event at a cut belongs
    /// to the piece that ends there.
    ///
    /// - **Checked by** V-308.
    pub fn from_times(times: &[CensoredTime], cuts: &[f64], prior: GammaRate) -> Self {
        let starts: Vec<f64> = std::iter::once(0.0).chain(cuts.iter().copied()).collect();
        let mut events = vec![0; starts.len()];
        let mut exposures = vec![0.0; starts.len()];
        for time in times {
            let last = starts.partition_point(|&start| start < time.time).saturating_sub(1);
            for piece in 0..=last {
                let end = starts.get(piece + 1).copied().unwrap_or(f64::INFINITY).min(time.time);
                exposures[piece] += end - starts[piece];
            }
            events[last] += u64::from(time.is_event);
        }
        let rates = events
            .iter()
            .zip(&exposures)
            .map(|(&events, &time)| prior.updated(events, time))
            .collect();
        Self { starts, events, exposures, rates }
    }

    /// Probability of no event within `time`, the doubt about all rates included.
    pub fn predictive_survival(&self, time: f64) -> f64 {
        let ends = self.starts[1..].iter().copied().chain([f64::INFINITY]);
        let pieces = self.starts.iter().zip(ends).zip(&self.rates);
        pieces
            .filter(|((start, _), _)| **start < time)
            .map(|((start, end), rate)| rate.predictive_survival(end.min(time) - start))
            .product()
    }
}
