//! One puff of scent, and the puff that a steady release leaves behind.

use crate::engine::Time;
use crate::water::Point;

/// How water carries, spreads and thins scent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mixing {
    /// Thickness of the layer in which scent is mixed [m].
    pub layer_m: f64,
    /// Eddy diffusivity K [m²/s].
    pub diffusivity_m2_s: f64,
    /// Flow of that layer along x and y [m/s].
    pub flow_m_s: (f64, f64),
    /// First-order loss λ [1/s].
    pub loss_per_s: f64,
}

impl Mixing {
    /// Share of a steady release over so long that is not lost at its end: (1 − exp(−λd))/(λd).
    fn left_of_steady(&self, lasts_s: f64) -> f64 {
        let lost = self.loss_per_s * lasts_s;
        if lost > 0.0 { -(-lost).exp_m1() / lost } else { 1.0 }
    }
}

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
    pub(super) fn area_squared_m4(&self) -> f64 {
        let squared = self.covariance_m2 * self.covariance_m2;
        (self.variance_x_m2 * self.variance_y_m2 - squared).max(f64::MIN_POSITIVE)
    }

    /// What a steady release at one place leaves behind: drawn out along the way the water went meanwhile.
    ///
    /// What was let go `t` ago has drifted by u·t and spread by 2K·t; over a release of a duration d the centre is
    /// half of u·d away, each axis has the variance σ² + K·d, and the way adds (u·d)²/12 along it. Amount, centre
    /// and second moments are those of the release, but that its loss is taken as even.
    #[must_use]
    pub fn drawn_out(
        amount_mol: f64,
        at: Point,
        variance_m2: f64,
        (since, until): (Time, Time),
        water: &Mixing,
    ) -> Self {
        let lasts_s = until.seconds_since(since);
        let (x_m, y_m) = (water.flow_m_s.0 * lasts_s, water.flow_m_s.1 * lasts_s);
        let round_m2 = variance_m2 + water.diffusivity_m2_s * lasts_s;
        Self {
            amount_mol: amount_mol * water.left_of_steady(lasts_s),
            centre: Point { x_m: at.x_m + 0.5 * x_m, y_m: at.y_m + 0.5 * y_m },
            variance_x_m2: round_m2 + x_m * x_m / 12.0,
            variance_y_m2: round_m2 + y_m * y_m / 12.0,
            covariance_m2: x_m * y_m / 12.0,
            since: until,
        }
    }

    /// The puff as it has become: moved, spread and thinned.
    pub(super) fn aged(&self, aging: &Aging) -> Self {
        Self {
            amount_mol: self.amount_mol * aging.left,
            centre: Point {
                x_m: self.centre.x_m + aging.way_m.0,
                y_m: self.centre.y_m + aging.way_m.1,
            },
            variance_x_m2: self.variance_x_m2 + aging.spread_m2,
            variance_y_m2: self.variance_y_m2 + aging.spread_m2,
            since: aging.until,
            ..*self
        }
    }
}

/// What a stretch of time does to every puff in the same water.
#[derive(Clone, Copy, Debug)]
pub(super) struct Aging {
    until: Time,
    left: f64,
    way_m: (f64, f64),
    spread_m2: f64,
}

impl Aging {
    /// From one time to another.
    pub(super) fn between(from: Time, until: Time, water: &Mixing) -> Self {
        let age_s = until.seconds_since(from);
        Self {
            until,
            left: (-water.loss_per_s * age_s).exp(),
            way_m: (water.flow_m_s.0 * age_s, water.flow_m_s.1 * age_s),
            spread_m2: 2.0 * water.diffusivity_m2_s * age_s,
        }
    }
}

/// One puff with the amount, centre of mass and second moments of two of the same age.
pub(super) fn merged(a: &Puff, b: &Puff) -> Puff {
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
