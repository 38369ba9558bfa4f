//! Puffs of scent: how they drift, spread and fade, and the puff that a steady release leaves behind.

use crate::engine::Time;
use crate::numerics::{exp, exp_m1};
use crate::water::Point;

/// How water carries, spreads and removes scent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mixing {
    /// Thickness of the layer in which scent is mixed [m].
    pub layer_m: f64,
    /// Eddy diffusivity K [m²/s].
    pub diffusivity_m2_s: f64,
    /// Flow of that layer in x and y [m/s].
    pub flow_m_s: (f64, f64),
    /// First-order loss λ [1/s].
    pub loss_per_s: f64,
}

impl Mixing {
    /// Share of a steady release of a duration that remains at its end: (1 − exp(−λd))/(λd).
    fn remaining_share(&self, duration_s: f64) -> f64 {
        let loss = self.loss_per_s * duration_s;
        if loss > 0.0 { -exp_m1(-loss) / loss } else { 1.0 }
    }
}

/// One puff: a two-dimensional Gaussian, mixed over a layer of the water.
///
/// C = M / (4πKth) · exp(−r²/(4Kt) − λt), written with the variance 2Kt of each axis, so that a puff can start with a
/// size of its own. A puff of a steady release, or of several merged puffs, is an ellipse stretched along the drift.
///
/// - **Source** `fischer-1979`, `csanady-1973`.
/// - **Checked by** V-16 (closed form), V-17 (mass), V-18 (largest reach independent of K).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Puff {
    /// Attractant in it at `since` [mol].
    pub amount_mol: f64,
    /// Its centre at `since`.
    pub centre: Point,
    /// Variance along x at `since` [m²].
    pub variance_x_m2: f64,
    /// Variance along y at `since` [m²].
    pub variance_y_m2: f64,
    /// Covariance of x and y at `since` [m²].
    pub covariance_m2: f64,
    /// The time to which its state belongs.
    pub since: Time,
}

impl Puff {
    /// Creates a round puff with the same variance along each axis [m²].
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

    /// Determinant of its covariance matrix, proportional to the square of the area that it covers [m⁴].
    pub(super) fn area_squared_m4(&self) -> f64 {
        let squared = self.covariance_m2 * self.covariance_m2;
        (self.variance_x_m2 * self.variance_y_m2 - squared).max(f64::MIN_POSITIVE)
    }

    /// Creates the puff that a steady release at one point leaves behind, stretched along the drift.
    ///
    /// Scent of age t has drifted by u·t and spread by 2K·t. Over a release of duration d, the centre has moved by
    /// u·d/2, each axis has the variance σ² + K·d, and the drift adds (u·d)²/12 along its direction. Amount, centre and
    /// second moments are those of the release, except that loss is taken as equal over all ages.
    #[must_use]
    pub fn from_steady_release(
        amount_mol: f64,
        at: Point,
        variance_m2: f64,
        (since, until): (Time, Time),
        water: &Mixing,
    ) -> Self {
        let duration_s = until.seconds_since(since);
        let (x_m, y_m) = (water.flow_m_s.0 * duration_s, water.flow_m_s.1 * duration_s);
        let round_m2 = variance_m2 + water.diffusivity_m2_s * duration_s;
        Self {
            amount_mol: amount_mol * water.remaining_share(duration_s),
            centre: Point { x_m: at.x_m + 0.5 * x_m, y_m: at.y_m + 0.5 * y_m },
            variance_x_m2: round_m2 + x_m * x_m / 12.0,
            variance_y_m2: round_m2 + y_m * y_m / 12.0,
            covariance_m2: x_m * y_m / 12.0,
            since: until,
        }
    }

    /// The puff at a later time: moved, spread and reduced.
    pub(super) fn aged(&self, aging: &Aging) -> Self {
        Self {
            amount_mol: self.amount_mol * aging.remaining_share,
            centre: Point {
                x_m: self.centre.x_m + aging.drift_m.0,
                y_m: self.centre.y_m + aging.drift_m.1,
            },
            variance_x_m2: self.variance_x_m2 + aging.spread_m2,
            variance_y_m2: self.variance_y_m2 + aging.spread_m2,
            since: aging.until,
            ..*self
        }
    }
}

/// What a time span does to every puff in the same water.
#[derive(Clone, Copy, Debug)]
pub(super) struct Aging {
    until: Time,
    remaining_share: f64,
    drift_m: (f64, f64),
    spread_m2: f64,
}

impl Aging {
    /// The effect of the time from `from` to `until`.
    pub(super) fn between(from: Time, until: Time, water: &Mixing) -> Self {
        let age_s = until.seconds_since(from);
        Self {
            until,
            remaining_share: exp(-water.loss_per_s * age_s),
            drift_m: (water.flow_m_s.0 * age_s, water.flow_m_s.1 * age_s),
            spread_m2: 2.0 * water.diffusivity_m2_s * age_s,
        }
    }
}

/// Merges two puffs at the same time into one with their amount, centre of mass and second moments.
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
