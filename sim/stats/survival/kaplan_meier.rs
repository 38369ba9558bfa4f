//! The estimates of Kaplan & Meier (survival) and of Nelson & Aalen (cumulative hazard).

use super::censored_time::{CensoredTime, risk_sets};
use crate::numerics::{exp, ln, powf};
use crate::stats::inference::{Interval, z_quantile};

/// The estimates from one event time to the next.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SurvivalStep {
    /// The event time.
    pub time: f64,
    /// Times that were still running just before it.
    pub at_risk: u64,
    /// Events at it.
    pub events: u64,
    /// Share that survives it (Kaplan–Meier).
    pub survival: f64,
    /// Greenwood's standard error of the share. NaN once nobody survives.
    pub survival_se: f64,
    /// Cumulative hazard up to and including this time (Nelson–Aalen): expected events of a subject always at risk.
    pub hazard: f64,
    /// Aalen's standard error of the cumulative hazard.
    pub hazard_se: f64,
}

/// Survival as a function of time, estimated from times of which some are censored.
///
/// S = Π (1 − d/n), Var S = S² Σ d/(n (n − d)), H = Σ d/n, Var H = Σ d/n², with d events among n at risk at each
/// event time. At equal times, events come before censoring.
///
/// - **Source** Kaplan & Meier 1958; Greenwood 1926; Nelson 1972; Aalen 1978 (textbook forms).
/// - **Checked by** V-300 (published trial), V-301.
#[derive(Clone, Debug, PartialEq)]
pub struct SurvivalCurve {
    steps: Vec<SurvivalStep>,
    n: u64,
    max_time: f64,
}

impl SurvivalCurve {
    /// Estimates the curve.
    pub fn from_times(times: &[CensoredTime]) -> Self {
        let (mut survival, mut greenwood) = (1.0, 0.0);
        let (mut hazard, mut hazard_variance) = (0.0, 0.0);
        let mut steps = Vec::new();
        for set in risk_sets(times) {
            let (n, d) = (set.at_risk as f64, set.events as f64);
            survival *= 1.0 - d / n;
            greenwood += d / (n * (n - d));
            hazard += d / n;
            hazard_variance += d / (n * n);
            steps.push(SurvivalStep {
                time: set.time,
                at_risk: set.at_risk,
                events: set.events,
                survival,
                survival_se: survival * greenwood.sqrt(),
                hazard,
                hazard_se: hazard_variance.sqrt(),
            });
        }
        let max_time = times.iter().map(|time| time.time).fold(0.0, f64::max);
        Self { steps, n: times.len() as u64, max_time }
    }

    /// The estimates at each event time, in order.
    pub fn steps(&self) -> &[SurvivalStep] {
        &self.steps
    }

    /// Number of times.
    pub fn n(&self) -> u64 {
        self.n
    }

    /// Number of events.
    pub fn events(&self) -> u64 {
        self.steps.iter().map(|step| step.events).sum()
    }

    /// The longest time, event or not. Beyond it nothing is known.
    pub fn max_time(&self) -> f64 {
        self.max_time
    }

    /// The last step at or before `time`. `None` before the first event.
    fn step_at(&self, time: f64) -> Option<&SurvivalStep> {
        let passed = self.steps.partition_point(|step| step.time <= time);
        self.steps[..passed].last()
    }

    /// Share that survives `time`. `None` beyond the longest time.
    pub fn survival(&self, time: f64) -> Option<f64> {
        (time <= self.max_time).then(|| self.step_at(time).map_or(1.0, |step| step.survival))
    }

    /// Interval for the share that survives `time`, from the log(−log) transform, which stays within 0 to 1.
    ///
    /// S^exp(±z σ), σ = √(Σ d/(n (n − d)))/|ln S|
    ///
    /// `None` beyond the longest time, before the first event and once nobody survives.
    ///
    /// # Panics
    ///
    /// If `level` is not between 0 and 1.
    pub fn interval(&self, time: f64, level: f64) -> Option<Interval> {
        let step = self.step_at(time).filter(|_| time <= self.max_time)?;
        step.interval(level)
    }

    /// The time by which a share `p` have had their event. `None` if the curve does not fall that far.
    ///
    /// The first time with S ≤ 1 − p; if S = 1 − p from one event time to the next, the middle between them.
    pub fn quantile(&self, p: f64) -> Option<f64> {
        const ROUNDING: f64 = 1e-12;
        let at = self.steps.iter().position(|step| step.survival <= 1.0 - p + ROUNDING)?;
        let step = &self.steps[at];
        let is_exact = (step.survival - (1.0 - p)).abs() <= ROUNDING;
        let next = self.steps.get(at + 1).filter(|_| is_exact);
        Some(next.map_or(step.time, |next| 0.5 * (step.time + next.time)))
    }

    /// Ends of the interval for [`SurvivalCurve::quantile`]: the times at which the ends of
    /// [`SurvivalCurve::interval`] pass 1 − p. An end is `None` if it lies beyond the longest time.
    ///
    /// - **Source** Brookmeyer & Crowley 1982 (from memory).
    ///
    /// # Panics
    ///
    /// If `level` is not between 0 and 1.
    pub fn quantile_interval(&self, p: f64, level: f64) -> (Option<f64>, Option<f64>) {
        let first = |end: fn(&Interval) -> f64| {
            let passes = |step: &&SurvivalStep| match step.interval(level) {
                Some(interval) => end(&interval) <= 1.0 - p,
                None => step.survival <= 0.0,
            };
            self.steps.iter().find(passes).map(|step| step.time)
        };
        (first(|interval| interval.low), first(|interval| interval.high))
    }

    /// Mean time up to a limit: the area under the curve from 0 to `time`. `None` beyond the longest time.
    pub fn mean_until(&self, time: f64) -> Option<f64> {
        let (mut area, mut from, mut survival) = (0.0, 0.0, 1.0);
        for step in self.steps.iter().take_while(|step| step.time <= time) {
            area += survival * (step.time - from);
            (from, survival) = (step.time, step.survival);
        }
        (time <= self.max_time).then_some(area + survival * (time - from))
    }
}

impl SurvivalStep {
    /// The log(−log) interval of the share that survives. `None` once nobody survives.
    ///
    /// # Panics
    ///
    /// If `level` is not between 0 and 1.
    pub fn interval(&self, level: f64) -> Option<Interval> {
        let ln_survival = ln(self.survival);
        let sigma = self.survival_se / self.survival / -ln_survival;
        let power = exp(z_quantile(level) * sigma);
        let (low, high) = (powf(self.survival, power), powf(self.survival, 1.0 / power));
        (self.survival > 0.0 && sigma.is_finite()).then_some(Interval { low, high })
    }
}
