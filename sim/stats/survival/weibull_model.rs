//! Weibull times of which a share may never come, and the best age to start again.

use statrs::function::gamma::{gamma, gamma_lr};

use crate::numerics::{exp, powf};

/// Times that never come with probability `never_share`, and are Weibull distributed otherwise.
///
/// S(t) = π + (1 − π) exp(−(t/scale)^shape)
///
/// A shape below 1 means that the hazard falls, 1 that it is constant (exponential), above 1 that it rises.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeibullModel {
    /// Share of times that never come, 0 to 1.
    pub never_share: f64,
    /// Shape; above zero.
    pub shape: f64,
    /// Scale, in the unit of time; above zero.
    pub scale: f64,
}

impl WeibullModel {
    /// Cumulative hazard of the times that do come.
    fn hazard_until(&self, time: f64) -> f64 {
        powf(time / self.scale, self.shape)
    }

    /// Probability that the time is longer than `time`.
    pub fn survival(&self, time: f64) -> f64 {
        self.never_share + (1.0 - self.never_share) * exp(-self.hazard_until(time))
    }

    /// Hazard at a time above zero, among all subjects whose event has not come yet, those included in whom it never comes.
    pub fn hazard(&self, time: f64) -> f64 {
        let rate = self.shape / time * self.hazard_until(time);
        let coming = (1.0 - self.never_share) * exp(-self.hazard_until(time));
        rate * coming / (self.never_share + coming)
    }

    /// Mean of the times, each cut off at `time`: ∫ S from 0 to `time`.
    ///
    /// π T + (1 − π) (scale/k) Γ(1/k) P(1/k, (T/scale)^k), with k the shape.
    pub fn mean_until(&self, time: f64) -> f64 {
        if time <= 0.0 {
            return 0.0;
        }
        let inverse = 1.0 / self.shape;
        let coming =
            self.scale * inverse * gamma(inverse) * gamma_lr(inverse, self.hazard_until(time));
        self.never_share * time + (1.0 - self.never_share) * coming
    }

    /// The age at which to give up and start again for most events per unit of time, when each start costs
    /// `start_cost` of it. `None` if giving up never pays.
    ///
    /// Solves h(T) (M(T) + cost) = F(T), the first-order condition of F/(M + cost): the marginal value theorem. The cost
    /// of an event itself cancels.
    ///
    /// - **Source** renewal–reward theorem (Barlow & Proschan 1965; Charnov 1976; from memory).
    /// - **Checked by** V-312 (optima solved separately).
    pub fn best_age(&self, start_cost: f64) -> Option<f64> {
        // By a cumulative hazard of 40 every time that ever comes has come.
        const MAX_HAZARD: f64 = 40.0;
        const POINTS: u32 = 400;
        let gain = |age: f64| {
            self.hazard(age) * (self.mean_until(age) + start_cost) - (1.0 - self.survival(age))
        };
        let highest = self.scale * powf(MAX_HAZARD, 1.0 / self.shape);
        let lowest = 1e-6 * self.scale.min(highest);
        let age = |k: u32| lowest * powf(highest / lowest, f64::from(k) / f64::from(POINTS));
        let first_loss = (0..=POINTS).find(|&k| gain(age(k)) < 0.0)?;
        let (mut low, mut high) = (age(first_loss.saturating_sub(1)), age(first_loss));
        for _ in 0..100 {
            let middle = 0.5 * (low + high);
            if gain(middle) < 0.0 { high = middle } else { low = middle }
        }
        Some(0.5 * (low + high))
    }
}
