//! Kim and Nelson's fully sequential procedure: drops candidates as soon as they are clearly behind.

use super::candidate::{Candidate, Simulator, extend, rank};
use crate::numerics::{powf, square};

/// Allowed probability of missing the best.
const ALPHA: f64 = 0.05;
/// Days between two screenings. Screening less often than daily is conservative.
const DAYS_BETWEEN_SCREENINGS: u32 = 8;

/// Constant η for k candidates with n₀ first days and probability α of missing the best.
///
/// η = ½ [(2α / (k − 1))^(−2/(n₀ − 1)) − 1]
///
/// - **Source** Kim & Nelson 2001 (ACM Transactions on Modeling and Computer Simulation 11:251).
/// - **Checked by** V-93.
pub fn kim_nelson_eta(k: usize, first_days: u32, alpha: f64) -> f64 {
    let others = (k - 1) as f64;
    0.5 * (powf(2.0 * alpha / others, -2.0 / f64::from(first_days - 1)) - 1.0)
}

/// Constants of the procedure, from the first days of all candidates.
#[derive(Clone, Debug)]
pub(super) struct Screening {
    /// 2 η (n₀ − 1).
    h_squared: f64,
    /// Indifference zone δ: smaller differences do not matter.
    indifference_zone: f64,
    /// Variance of the difference of each pair, over the first days.
    variances: Vec<Vec<f64>>,
}

impl Screening {
    /// From candidates that were all simulated on the same first days.
    pub(super) fn new(candidates: &[Candidate], indifference_zone: f64) -> Self {
        let first_days = candidates.first().map_or(0, |candidate| candidate.values.len() as u32);
        let variances = candidates
            .iter()
            .map(|a| {
                candidates
                    .iter()
                    .map(|b| a.paired_differences(b).variance().unwrap_or(0.0))
                    .collect()
            })
            .collect();
        let eta = kim_nelson_eta(candidates.len(), first_days, ALPHA);
        Self { h_squared: 2.0 * eta * f64::from(first_days - 1), indifference_zone, variances }
    }

    /// Largest possible number of days, however close the candidates are.
    pub(super) fn max_days(&self) -> f64 {
        let widest = self.variances.iter().flatten().copied().fold(0.0, f64::max);
        (self.h_squared * widest / square(self.indifference_zone)).floor() + 1.0
    }

    /// Largest deficit after `days` days at which candidate i survives screening against l.
    ///
    /// W = max(0, δ/2r · (h² S²/δ² − r))
    fn slack(&self, i: usize, l: usize, days: f64) -> f64 {
        let delta = self.indifference_zone;
        let needed = self.h_squared * self.variances[i][l] / (delta * delta);
        (delta / (2.0 * days) * (needed - days)).max(0.0)
    }

    /// Runs until one candidate is left, or until the last day, when the larger mean decides. `None` if it was stopped.
    ///
    /// Sorts the candidates: the winner comes first, then the others, those dropped last before those dropped early.
    pub(super) fn run(
        &self,
        candidates: &mut Vec<Candidate>,
        simulator: &mut impl Simulator,
    ) -> Option<()> {
        let mut surviving: Vec<usize> = (0..candidates.len()).collect();
        let mut dropped: Vec<usize> = Vec::new();
        loop {
            let days = candidates[surviving[0]].values.len() as f64;
            let means: Vec<f64> = candidates.iter().map(Candidate::mean).collect();
            let (kept, behind): (Vec<usize>, Vec<usize>) = surviving.iter().partition(|&&i| {
                surviving.iter().all(|&l| l == i || means[i] >= means[l] - self.slack(i, l, days))
            });
            dropped.extend(behind);
            surviving = kept;
            if surviving.len() == 1 || days >= self.max_days() {
                break;
            }
            let mut extended: Vec<Candidate> =
                surviving.iter().map(|&i| candidates[i].clone()).collect();
            let more_days = vec![DAYS_BETWEEN_SCREENINGS; surviving.len()];
            extend(&mut extended, &more_days, simulator)?;
            surviving.iter().zip(extended).for_each(|(&i, candidate)| candidates[i] = candidate);
        }
        let mut ranked: Vec<Candidate> = surviving.iter().map(|&i| candidates[i].clone()).collect();
        rank(&mut ranked);
        ranked.extend(dropped.iter().rev().map(|&i| candidates[i].clone()));
        *candidates = ranked;
        Some(())
    }
}
