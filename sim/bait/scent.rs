//! Attractant that leaches from bait and spreads as puffs of scent.

use crate::engine::Time;
use crate::water::Point;

/// One puff: a two-dimensional Gaussian mixed over a layer of the water.
///
/// C = M / (4πKth) · exp(−r²/(4Kt) − λt), written with the variance 2Kt of each axis so that a puff
/// may start with a size of its own; one that stands for several drawn out by drift is stretched.
///
/// - **Source** `fischer-1979`, `csanady-1973`.
/// - **Checked by** V-16 (closed form), V-17 (mass), V-18 (largest reach independent of K).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Puff {
    /// Attractant in it when it was let go [mol].
    pub amount_mol: f64,
    /// Its centre when it was let go.
    pub centre: Point,
    /// Variance along x when it was let go [m²].
    pub variance_x_m2: f64,
    /// Variance along y when it was let go [m²].
    pub variance_y_m2: f64,
    /// Covariance of the two when it was let go [m²].
    pub covariance_m2: f64,
    /// When it was let go.
    pub since: Time,
}

impl Puff {
    /// A round puff of a variance along each axis [m²].
    #[must_use]
    pub fn round(amount_mol: f64, centre: Point, variance_m2: f64, since: Time) -> Self {
        Self {
            amount_mol,
            centre,
            variance_x_m2: variance_m2,
            variance_y_m2: variance_m2,
            covariance_m2: 0.0,
            since,
        }
    }

    /// Determinant of its covariance: the square of the area it covers, but for a factor [m⁴].
    fn area_squared_m4(&self) -> f64 {
        let squared = self.covariance_m2 * self.covariance_m2;
        (self.variance_x_m2 * self.variance_y_m2 - squared).max(f64::MIN_POSITIVE)
    }
}

/// The puffs over one line, their number bounded by merging neighbours in age.
#[derive(Clone, Debug, PartialEq)]
pub struct Plume {
    puffs: Vec<Puff>,
    /// The time as of which the puffs are kept.
    as_of: Time,
    /// Thickness of the layer in which scent is mixed [m].
    pub layer_m: f64,
    /// Eddy diffusivity K [m²/s].
    pub diffusivity_m2_s: f64,
    /// Flow of that layer along x and y [m/s].
    pub flow_m_s: (f64, f64),
    /// First-order loss λ [1/s].
    pub loss_per_s: f64,
}

/// Puffs kept at most; beyond it two neighbours in age become one.
const MOST_PUFFS: usize = 10;
/// Beyond this many variances a puff is not smelt at all: exp(−12.5) is four millionths.
const REACH_VARIANCES: f64 = 25.0;

impl Plume {
    /// No scent yet.
    #[must_use]
    pub fn new(layer_m: f64, diffusivity_m2_s: f64, flow_m_s: (f64, f64), loss_per_s: f64) -> Self {
        Self {
            puffs: Vec::with_capacity(MOST_PUFFS + 1),
            as_of: Time::ZERO,
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
            variance_x_m2: puff.variance_x_m2 + 2.0 * self.diffusivity_m2_s * age_s,
            variance_y_m2: puff.variance_y_m2 + 2.0 * self.diffusivity_m2_s * age_s,
            since: now,
            ..*puff
        }
    }

    /// Lets go of one puff, none earlier than the last; if there are too many, two neighbours in age become
    /// one.
    ///
    /// Merging keeps the amount, the centre of mass and the second moments.
    pub fn release(&mut self, puff: Puff) {
        // All are kept as they have become by the last release, so that a sniff has one age to reckon with.
        for i in 0..self.puffs.len() {
            self.puffs[i] = self.aged(&self.puffs[i], puff.since);
        }
        self.as_of = puff.since;
        self.puffs.push(puff);
        if self.puffs.len() <= MOST_PUFFS {
            return;
        }
        let Some(closest) = (0..self.puffs.len() - 1)
            .min_by(|&i, &j| self.merging_cost(i).total_cmp(&self.merging_cost(j)))
        else {
            return;
        };
        let merged = merge(&self.puffs[closest], &self.puffs[closest + 1]);
        self.puffs[closest] = merged;
        self.puffs.remove(closest + 1);
    }

    /// How badly one Gaussian would stand for puffs `i` and `i + 1`: by how much their peaks would be flattened.
    ///
    /// Of the measures tried (distance over spread, information lost, area gained) this one errs least at the
    /// worst place; V-32 has by how much.
    fn merging_cost(&self, i: usize) -> f64 {
        let (a, b) = (&self.puffs[i], &self.puffs[i + 1]);
        let merged = merge(a, b);
        let of = |p: &Puff| p.amount_mol / p.area_squared_m4().sqrt();
        (of(a) + of(b) - of(&merged)).abs()
    }

    /// Concentration at a place [mol/m³].
    #[must_use]
    pub fn concentration_mol_m3(&self, place: Point, now: Time) -> f64 {
        let age_s = now.seconds_since(self.as_of);
        let spread_m2 = 2.0 * self.diffusivity_m2_s * age_s;
        // Where it would have been smelt when the puffs were as they are kept.
        let (x_m, y_m) = (place.x_m - self.flow_m_s.0 * age_s, place.y_m - self.flow_m_s.1 * age_s);
        let mut sum = 0.0;
        for puff in &self.puffs {
            let (dx, dy) = (x_m - puff.centre.x_m, y_m - puff.centre.y_m);
            let (xx, yy) = (puff.variance_x_m2 + spread_m2, puff.variance_y_m2 + spread_m2);
            let xy = puff.covariance_m2;
            let determinant = xx * yy - xy * xy;
            let form = yy * dx * dx - 2.0 * xy * dx * dy + xx * dy * dy;
            if form < REACH_VARIANCES * determinant {
                sum += puff.amount_mol / determinant.sqrt() * (-0.5 * form / determinant).exp();
            }
        }
        if sum <= 0.0 {
            return 0.0;
        }
        sum *= (-self.loss_per_s * age_s).exp();
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

/// One puff with the amount, centre of mass and second moments of two of the same age.
fn merge(a: &Puff, b: &Puff) -> Puff {
    let amount_mol = a.amount_mol + b.amount_mol;
    let share = if amount_mol > 0.0 { b.amount_mol / amount_mol } else { 0.5 };
    let (dx, dy) = (b.centre.x_m - a.centre.x_m, b.centre.y_m - a.centre.y_m);
    let between = share * (1.0 - share);
    let mean = |of_a: f64, of_b: f64| (1.0 - share) * of_a + share * of_b;
    Puff {
        amount_mol,
        centre: a.centre.towards(b.centre, share),
        variance_x_m2: mean(a.variance_x_m2, b.variance_x_m2) + between * dx * dx,
        variance_y_m2: mean(a.variance_y_m2, b.variance_y_m2) + between * dy * dy,
        covariance_m2: mean(a.covariance_m2, b.covariance_m2) + between * dx * dy,
        since: a.since,
    }
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
