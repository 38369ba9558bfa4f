//! Attractant that leaches from bait and spreads as puffs of scent.

use crate::engine::Time;
use crate::water::Point;

/// One puff: a two-dimensional Gaussian mixed over a layer of the water.
///
/// C = M / (4πKth) · exp(−r²/(4Kt) − λt), written with the variance 2Kt of each axis so that a puff
/// may start with a size of its own.
///
/// - **Source** `fischer-1979`, `csanady-1973`.
/// - **Checked by** V-16 (closed form), V-17 (mass), V-18 (largest reach independent of K).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Puff {
    /// Attractant in it when it was let go [mol].
    pub amount_mol: f64,
    /// Its centre when it was let go.
    pub centre: Point,
    /// Variance along each axis when it was let go [m²].
    pub variance_m2: f64,
    /// When it was let go.
    pub since: Time,
}

/// The puffs over one line, their number bounded by merging neighbours in age.
#[derive(Clone, Debug, PartialEq)]
pub struct Plume {
    puffs: Vec<Puff>,
    /// Thickness of the layer in which scent is mixed [m].
    pub layer_m: f64,
    /// Eddy diffusivity K [m²/s].
    pub diffusivity_m2_s: f64,
    /// Flow of that layer along x and y [m/s].
    pub flow_m_s: (f64, f64),
    /// First-order loss λ [1/s].
    pub loss_per_s: f64,
}

/// Puffs kept at most; beyond it the two nearest in age become one.
const MOST_PUFFS: usize = 6;
/// Beyond this many variances a puff is not smelt at all: exp(−12.5) is four millionths.
const REACH_VARIANCES: f64 = 25.0;

impl Plume {
    /// No scent yet.
    #[must_use]
    pub fn new(layer_m: f64, diffusivity_m2_s: f64, flow_m_s: (f64, f64), loss_per_s: f64) -> Self {
        Self {
            puffs: Vec::with_capacity(MOST_PUFFS + 1),
            layer_m,
            diffusivity_m2_s,
            flow_m_s,
            loss_per_s,
        }
    }

    /// A puff as it has become by `now`: moved, spread and thinned.
    fn aged(&self, puff: &Puff, now: Time) -> Puff {
        let age_s = now.seconds_since(puff.since);
        Puff {
            amount_mol: puff.amount_mol * (-self.loss_per_s * age_s).exp(),
            centre: Point {
                x_m: puff.centre.x_m + self.flow_m_s.0 * age_s,
                y_m: puff.centre.y_m + self.flow_m_s.1 * age_s,
            },
            variance_m2: puff.variance_m2 + 2.0 * self.diffusivity_m2_s * age_s,
            since: now,
        }
    }

    /// Lets go of one puff; if there are too many, two neighbours in age become one.
    ///
    /// Merging keeps the amount, the centre of mass and the second moment.
    pub fn release(&mut self, puff: Puff) {
        self.puffs.push(puff);
        if self.puffs.len() <= MOST_PUFFS {
            return;
        }
        let now = puff.since;
        for i in 0..self.puffs.len() {
            self.puffs[i] = self.aged(&self.puffs[i], now);
        }
        let closest = (0..self.puffs.len() - 1)
            .min_by(|&i, &j| self.merging_cost(i).total_cmp(&self.merging_cost(j)))
            .expect("more than one puff");
        let merged = merge(&self.puffs[closest], &self.puffs[closest + 1]);
        self.puffs[closest] = merged;
        self.puffs.remove(closest + 1);
    }

    /// How badly one Gaussian would stand for puffs `i` and `i + 1`.
    fn merging_cost(&self, i: usize) -> f64 {
        let (a, b) = (&self.puffs[i], &self.puffs[i + 1]);
        let apart_m2 = a.centre.squared_distance_m2(b.centre);
        let ratio = (a.variance_m2 / b.variance_m2).ln();
        apart_m2 / (a.variance_m2 + b.variance_m2) + ratio * ratio
    }

    /// Concentration at a place [mol/m³].
    #[must_use]
    pub fn concentration_mol_m3(&self, place: Point, now: Time) -> f64 {
        let mut sum = 0.0;
        let spread_m2_s = 2.0 * self.diffusivity_m2_s;
        for puff in &self.puffs {
            let age_s = now.seconds_since(puff.since);
            let variance_m2 = puff.variance_m2 + spread_m2_s * age_s;
            let dx = place.x_m - puff.centre.x_m - self.flow_m_s.0 * age_s;
            let dy = place.y_m - puff.centre.y_m - self.flow_m_s.1 * age_s;
            let squared_m2 = dx * dx + dy * dy;
            if squared_m2 < REACH_VARIANCES * variance_m2 {
                let exponent = -0.5 * squared_m2 / variance_m2 - self.loss_per_s * age_s;
                sum += puff.amount_mol / variance_m2 * exponent.exp();
            }
        }
        sum / (std::f64::consts::TAU * self.layer_m)
    }

    /// All attractant in the water at `now` [mol].
    #[must_use]
    pub fn amount_mol(&self, now: Time) -> f64 {
        self.puffs.iter().map(|puff| self.aged(puff, now).amount_mol).sum()
    }

    /// The puffs as they have become by `now`.
    pub fn puffs(&self, now: Time) -> impl Iterator<Item = Puff> + '_ {
        self.puffs.iter().map(move |puff| self.aged(puff, now))
    }
}

/// One puff with the amount, centre of mass and second moment of two of the same age.
fn merge(a: &Puff, b: &Puff) -> Puff {
    let amount_mol = a.amount_mol + b.amount_mol;
    let share = if amount_mol > 0.0 { b.amount_mol / amount_mol } else { 0.5 };
    let centre = a.centre.towards(b.centre, share);
    // Mean over the two axes of the spread of the two centres about their common one.
    let between_m2 = 0.5 * share * (1.0 - share) * a.centre.squared_distance_m2(b.centre);
    let variance_m2 = (1.0 - share) * a.variance_m2 + share * b.variance_m2 + between_m2;
    Puff { amount_mol, centre, variance_m2, since: a.since }
}

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

    /// What leaches in `elapsed_s` [mol]: each pool by its own exponential.
    pub fn leach(&mut self, elapsed_s: f64, fast_time_s: f64, slow_time_s: f64) -> f64 {
        let fast_mol = -self.fast_mol * (-elapsed_s / fast_time_s).exp_m1();
        let slow_mol = -self.slow_mol * (-elapsed_s / slow_time_s).exp_m1();
        self.fast_mol -= fast_mol;
        self.slow_mol -= slow_mol;
        fast_mol + slow_mol
    }

    /// Loses a share with bait that was eaten, silted or wound in.
    pub fn lose_share(&mut self, share: f64) {
        let kept = 1.0 - share.clamp(0.0, 1.0);
        self.fast_mol *= kept;
        self.slow_mol *= kept;
    }
}
