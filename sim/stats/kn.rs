//! Kim and Nelson's fully sequential procedure, which sends plans home as soon as they are clearly behind.

use super::contender::{Contender, Trials, rank, try_more};

/// Chance that the procedure is allowed to miss the best.
const ALPHA: f64 = 0.05;
/// Days that are fished between two looks; looking less often errs on the safe side.
const DAYS_BETWEEN_LOOKS: u32 = 8;

/// The constant η of k plans with n₀ first days, at a chance α of missing the best.
///
/// η = ½ [(2α / (k − 1))^(−2/(n₀ − 1)) − 1]
///
/// - **Source** Kim & Nelson 2001 (ACM Transactions on Modeling and Computer Simulation 11:251).
/// - **Checked by** V-93.
#[must_use]
pub fn kn_eta(k: usize, first_days: u32, alpha: f64) -> f64 {
    let others = (k - 1) as f64;
    0.5 * ((2.0 * alpha / others).powf(-2.0 / f64::from(first_days - 1)) - 1.0)
}

/// What the first days say of a choice by this procedure.
#[derive(Clone, Debug)]
pub(super) struct Screening {
    /// 2 η (n₀ − 1).
    h_squared: f64,
    /// What is worth telling apart.
    indifference: f64,
    /// Variance of the difference of each two, over the first days.
    variances: Vec<Vec<f64>>,
}

impl Screening {
    /// Looks at contenders that have all been tried on the same first days.
    pub(super) fn new(contenders: &[Contender], indifference: f64) -> Self {
        let first_days = contenders.first().map_or(0, |one| one.values.len() as u32);
        let variances = contenders
            .iter()
            .map(|a| contenders.iter().map(|b| a.ahead_of(b).variance().unwrap_or(0.0)).collect())
            .collect();
        let eta = kn_eta(contenders.len(), first_days, ALPHA);
        Self { h_squared: 2.0 * eta * f64::from(first_days - 1), indifference, variances }
    }

    /// Days after which it has ended, however close the plans are.
    pub(super) fn most_days(&self) -> f64 {
        let widest = self.variances.iter().flatten().copied().fold(0.0, f64::max);
        (self.h_squared * widest / self.indifference.powi(2)).floor() + 1.0
    }

    /// How far behind i may lie on `days` days without being sent home for l's sake.
    ///
    /// W = max(0, δ/2r · (h² S²/δ² − r))
    fn slack(&self, i: usize, l: usize, days: f64) -> f64 {
        let delta = self.indifference;
        let needed = self.h_squared * self.variances[i][l] / (delta * delta);
        (delta / (2.0 * days) * (needed - days)).max(0.0)
    }

    /// Goes on until one is left, or the days are reached after which the larger mean decides.
    ///
    /// The winner comes first, then the others, those longest in the race before those sent home early.
    pub(super) fn run(
        &self,
        contenders: &mut Vec<Contender>,
        trials: &mut impl Trials,
    ) -> Option<()> {
        let mut standing: Vec<usize> = (0..contenders.len()).collect();
        let mut sent_home: Vec<usize> = Vec::new();
        loop {
            let days = contenders[standing[0]].values.len() as f64;
            let means: Vec<f64> = contenders.iter().map(Contender::mean).collect();
            let (stay, go): (Vec<usize>, Vec<usize>) = standing.iter().partition(|&&i| {
                standing.iter().all(|&l| l == i || means[i] >= means[l] - self.slack(i, l, days))
            });
            sent_home.extend(go);
            standing = stay;
            if standing.len() == 1 || days >= self.most_days() {
                break;
            }
            let more = |i: &usize| Contender::clone(&contenders[*i]);
            let mut tried: Vec<Contender> = standing.iter().map(more).collect();
            try_more(&mut tried, &vec![DAYS_BETWEEN_LOOKS; standing.len()], trials)?;
            standing.iter().zip(tried).for_each(|(&i, one)| contenders[i] = one);
        }
        let mut last: Vec<Contender> = standing.iter().map(|&i| contenders[i].clone()).collect();
        rank(&mut last);
        last.extend(sent_home.iter().rev().map(|&i| contenders[i].clone()));
        *contenders = last;
        Some(())
    }
}
