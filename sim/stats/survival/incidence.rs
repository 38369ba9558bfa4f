//! Cumulative incidence: the share that has ended in each of several competing ways.

use super::aalen_johansen::{Spell, state_occupation};
use super::censored_time::CompetingTime;
use crate::numerics::{exp, ln, powf};
use crate::stats::inference::{Interval, z_quantile};

/// The estimates from one event time to the next.
#[derive(Clone, Debug, PartialEq)]
pub struct IncidenceStep {
    /// The event time.
    pub time: f64,
    /// Share that has not ended in any way.
    pub survival: f64,
    /// Share that has ended by each cause.
    pub incidence: Vec<f64>,
    /// Standard error of each share.
    pub se: Vec<f64>,
}

/// Shares that have ended by each cause, as functions of time.
///
/// F_k(t) = Σ S(t⁻) d_k/n, which is the estimate of Aalen & Johansen for one state with several exits. One minus a
/// Kaplan–Meier curve of cause k, with the other causes as censored, is always larger: it answers what would happen if
/// the other causes did not exist.
///
/// Var F_k(t) = Σ (F_k(t) − F_k(tᵢ))² d/(n (n − d)) + Σ S(tᵢ⁻)² (n − d_k) d_k/n³ − 2 Σ (F_k(t) − F_k(tᵢ)) S(tᵢ⁻) d_k/n²
///
/// - **Source** Aalen & Johansen 1978; variance by the delta method (Marubini & Valsecchi 1995, from memory).
/// - **Checked by** V-304, V-305, V-306.
#[derive(Clone, Debug, PartialEq)]
pub struct CumulativeIncidence {
    steps: Vec<IncidenceStep>,
    max_time: f64,
}

/// Sums over event times from which the variance of one cause follows.
#[derive(Clone, Copy, Default)]
struct VarianceSums {
    square: f64,
    linear: f64,
    constant: f64,
}

impl CumulativeIncidence {
    /// Estimates the shares for `causes` causes. Times must be above zero.
    ///
    /// # Panics
    ///
    /// If a time names a cause that is not below `causes`.
    pub fn from_times(times: &[CompetingTime], causes: usize) -> Self {
        let spell = |time: &CompetingTime| Spell {
            entry: 0.0,
            exit: time.time,
            from: 0,
            to: time.cause.map(|cause| cause + 1),
        };
        let spells: Vec<Spell> = times.iter().map(spell).collect();
        let mut start = vec![0.0; causes + 1];
        start[0] = 1.0;
        let mut occupations = state_occupation(&spells, &start).into_iter();
        let mut sorted = times.to_vec();
        sorted.sort_by(|a, b| a.time.total_cmp(&b.time));
        let (mut n, mut survival) = (sorted.len() as f64, 1.0);
        let mut sums = vec![VarianceSums::default(); causes];
        let mut steps = Vec::new();
        for tied in sorted.chunk_by(|a, b| a.time.total_cmp(&b.time).is_eq()) {
            let events = tied.iter().filter(|time| time.cause.is_some()).count() as f64;
            let occupation = (events > 0.0).then(|| occupations.next()).flatten();
            if let Some(occupation) = occupation {
                let incidence = occupation.shares[1..].to_vec();
                let count = |cause| tied.iter().filter(|t| t.cause == Some(cause)).count() as f64;
                let se = (0..causes)
                    .map(|k| sums[k].step(incidence[k], survival, (n, events, count(k))).sqrt())
                    .collect();
                survival = occupation.shares[0];
                steps.push(IncidenceStep { time: occupation.time, survival, incidence, se });
            }
            n -= tied.len() as f64;
        }
        Self { steps, max_time: sorted.last().map_or(0.0, |time| time.time) }
    }

    /// The estimates at each event time, in order.
    pub fn steps(&self) -> &[IncidenceStep] {
        &self.steps
    }

    /// Share that has ended by `cause` up to and at `time`. `None` beyond the longest time.
    pub fn incidence(&self, cause: usize, time: f64) -> Option<f64> {
        let known = time <= self.max_time;
        known.then(|| self.step_at(time).map_or(0.0, |step| step.incidence[cause]))
    }

    /// Interval for that share, from the log(−log) transform. `None` beyond the longest time and where the share is 0
    /// or 1.
    ///
    /// # Panics
    ///
    /// If `level` is not between 0 and 1.
    pub fn interval(&self, cause: usize, time: f64, level: f64) -> Option<Interval> {
        let step = self.step_at(time).filter(|_| time <= self.max_time)?;
        let (share, se) = (step.incidence[cause], step.se[cause]);
        let power = exp(z_quantile(level) * se / (share * -ln(share)));
        let (low, high) = (powf(share, power), powf(share, 1.0 / power));
        (share > 0.0 && share < 1.0 && power.is_finite()).then_some(Interval { low, high })
    }

    fn step_at(&self, time: f64) -> Option<&IncidenceStep> {
        let passed = self.steps.partition_point(|step| step.time <= time);
        self.steps[..passed].last()
    }
}

impl VarianceSums {
    /// The variance at an event time; adds this time for the later ones.
    fn step(&mut self, share: f64, survival: f64, (n, d, d_k): (f64, f64, f64)) -> f64 {
        // At its own time, an event time enters by its second term only.
        self.constant += survival * survival * (n - d_k) * d_k / (n * n * n);
        let variance = share * share * self.square - 2.0 * share * self.linear + self.constant;
        // If all have ended, there is no later time.
        let square = if n > d { d / (n * (n - d)) } else { 0.0 };
        let cross = survival * d_k / (n * n);
        self.square += square;
        self.linear += share * square + cross;
        self.constant += share * share * square + 2.0 * share * cross;
        variance.max(0.0)
    }
}
