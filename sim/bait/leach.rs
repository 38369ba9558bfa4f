//! Attractant that leaches from bait.

/// Attractant below which bait has nothing left to leach [mol].
const SPENT_MOL: f64 = 1e-8;

/// Attractant still in bait, in two pools: one leaches fast, one slowly.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Attractant {
    /// Near the surface of the particles [mol].
    pub fast_mol: f64,
    /// Deep in them [mol].
    pub slow_mol: f64,
}

impl Attractant {
    /// Adds attractant, `fast_share` of it near the surface.
    pub fn add(&mut self, amount_mol: f64, fast_share: f64) {
        self.fast_mol += amount_mol * fast_share;
        self.slow_mol += amount_mol * (1.0 - fast_share);
    }

    /// What leaches in `elapsed_s` [mol], each pool by its own exponential, while bait silts up at a rate.
    pub fn leach(&mut self, elapsed_s: f64, times_s: (f64, f64), silts_per_s: f64) -> f64 {
        let leached_mol = |pool_mol: &mut f64, time_s: f64| {
            let goes_per_s = 1.0 / time_s + silts_per_s;
            let gone_mol = -*pool_mol * (-elapsed_s * goes_per_s).exp_m1();
            *pool_mol -= gone_mol;
            gone_mol / (time_s * goes_per_s)
        };
        leached_mol(&mut self.fast_mol, times_s.0) + leached_mol(&mut self.slow_mol, times_s.1)
    }

    /// What would leach in a second, in the mean over the coming `ahead_s` [mol/s].
    #[must_use]
    pub fn rate_mol_s(mut self, ahead_s: f64, times_s: (f64, f64), silts_per_s: f64) -> f64 {
        self.leach(ahead_s, times_s, silts_per_s) / ahead_s
    }

    /// Whether nothing worth leaching is left in it.
    #[must_use]
    pub fn spent(&self) -> bool {
        self.fast_mol + self.slow_mol <= SPENT_MOL
    }

    /// Loses a share with bait that was eaten.
    pub fn lose_share(&mut self, share: f64) {
        let kept = 1.0 - share.clamp(0.0, 1.0);
        self.fast_mol *= kept;
        self.slow_mol *= kept;
    }
}
