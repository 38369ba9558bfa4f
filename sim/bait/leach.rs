//! Attractant that leaches from bait on the bed.

use crate::numerics::exp_m1;

/// Amount of attractant at which leaching ends [mol].
const SPENT_MOL: f64 = 1e-8;

/// Attractant that is still in bait, in two pools: one leaches fast, one slowly.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Attractant {
    /// Amount near the surface of the particles [mol].
    pub fast_mol: f64,
    /// Amount deep inside them [mol].
    pub slow_mol: f64,
}

impl Attractant {
    /// Adds attractant, `fast_share` of it near the surface.
    pub fn add(&mut self, amount_mol: f64, fast_share: f64) {
        self.fast_mol += amount_mol * fast_share;
        self.slow_mol += amount_mol * (1.0 - fast_share);
    }

    /// Leaches for `elapsed_s`, each pool exponentially, while bait silts up; returns the amount leached [mol].
    pub fn leach(&mut self, elapsed_s: f64, times_s: (f64, f64), silts_per_s: f64) -> f64 {
        let leached_mol = |pool_mol: &mut f64, time_s: f64| {
            let loss_per_s = 1.0 / time_s + silts_per_s;
            let lost_mol = -*pool_mol * exp_m1(-elapsed_s * loss_per_s);
            *pool_mol -= lost_mol;
            lost_mol / (time_s * loss_per_s)
        };
        leached_mol(&mut self.fast_mol, times_s.0) + leached_mol(&mut self.slow_mol, times_s.1)
    }

    /// Mean leaching rate over the next `ahead_s` [mol/s].
    #[must_use]
    pub fn rate_mol_s(mut self, ahead_s: f64, times_s: (f64, f64), silts_per_s: f64) -> f64 {
        self.leach(ahead_s, times_s, silts_per_s) / ahead_s
    }

    /// Whether too little is left to go on leaching.
    #[must_use]
    pub fn is_spent(&self) -> bool {
        self.fast_mol + self.slow_mol <= SPENT_MOL
    }

    /// Loses a share, with bait that was eaten.
    pub fn lose_share(&mut self, share: f64) {
        let kept_share = 1.0 - share.clamp(0.0, 1.0);
        self.fast_mol *= kept_share;
        self.slow_mol *= kept_share;
    }
}
