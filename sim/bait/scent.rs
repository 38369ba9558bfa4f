//! The scent over one line: a plume of puffs that drift, spread and fade.

use super::puff::{Aging, Mixing, Puff, merged};
use crate::engine::Time;
use crate::numerics::{atan2, exp, sin_cos};
use crate::water::Point;

/// Bait that releases scent steadily: the puff in progress.
#[derive(Clone, Copy, Debug, PartialEq)]
struct ScentSource {
    at: Point,
    variance_m2: f64,
    /// When the puff in progress began.
    since: Time,
    /// Amount released until `as_of` [mol].
    amount_mol: f64,
    as_of: Time,
    /// Release rate from `as_of` on [mol/s].
    rate_mol_s: f64,
}

impl ScentSource {
    /// Whether the puff in progress reaches a point.
    #[inline]
    fn reaches(&self, point: Point, now: Time, water: &Mixing) -> bool {
        let duration_s = now.seconds_since(self.since);
        let round_m2 = self.variance_m2 + water.diffusivity_m2_s * duration_s;
        let within = |distance_m: f64, flow_m_s: f64| {
            let drift_m = flow_m_s * duration_s;
            let from_centre_m = distance_m - 0.5 * drift_m;
            from_centre_m * from_centre_m <= REACH_VARIANCES * (round_m2 + drift_m * drift_m / 12.0)
        };
        within(point.x_m - self.at.x_m, water.flow_m_s.0)
            && within(point.y_m - self.at.y_m, water.flow_m_s.1)
    }

    /// Amount released until `now` [mol].
    fn released_mol(&self, now: Time) -> f64 {
        self.amount_mol + self.rate_mol_s * now.seconds_since(self.as_of)
    }

    /// The puff in progress at `now`.
    fn puff(&self, now: Time, water: &Mixing) -> Puff {
        let amount_mol = self.released_mol(now);
        Puff::from_steady_release(amount_mol, self.at, self.variance_m2, (self.since, now), water)
    }
}

/// Scent that was released in finished puffs, whether or not it is still in the water.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ReleasedScent {
    /// Released at once [mol].
    pub at_once_mol: f64,
    /// Amount released steadily, from one puff to the next [mol].
    pub steadily_mol: f64,
}

/// The plume over one line: finished puffs, of which neighbours in age are merged if there are too many, and the puff in
/// progress.
#[derive(Clone, Debug, PartialEq)]
pub struct Plume {
    puffs: Vec<Puff>,
    /// Where each of them could be smelt at `as_of`, in their order.
    extents: Vec<PlumeExtent>,
    /// The time to which the state of all puffs belongs.
    as_of: Time,
    /// Where any of them could be smelt at that time.
    reach: PlumeExtent,
    /// Direction of the flow, as a unit vector.
    along: (f64, f64),
    source: Option<ScentSource>,
    released: ReleasedScent,
    water: Mixing,
}

/// Largest number of puffs; above it, two neighbours in age are merged.
const MAX_PUFFS: usize = 10;
/// Squared distance, in variances, beyond which a puff cannot be smelt: exp(−12.5) is about four millionths.
const REACH_VARIANCES: f64 = 25.0;

impl Plume {
    /// Creates a plume without scent.
    #[must_use]
    pub fn new(layer_m: f64, diffusivity_m2_s: f64, flow_m_s: (f64, f64), loss_per_s: f64) -> Self {
        let (sin, cos) = sin_cos(atan2(flow_m_s.1, flow_m_s.0));
        Self {
            along: (cos, sin),
            puffs: Vec::with_capacity(MAX_PUFFS + 1),
            extents: Vec::with_capacity(MAX_PUFFS + 1),
            as_of: Time::ZERO,
            reach: PlumeExtent::EMPTY,
            source: None,
            released: ReleasedScent::default(),
            water: Mixing { layer_m, diffusivity_m2_s, flow_m_s, loss_per_s },
        }
    }

    /// How the water here carries, spreads and removes scent.
    #[must_use]
    pub fn water(&self) -> &Mixing {
        &self.water
    }

    /// Adds scent that bait released since the last call [mol], and sets its release rate from now on [mol/s].
    ///
    /// Until [`Self::finish_puff`], all of it counts as one puff of a steady release.
    pub fn release_steadily(
        &mut self,
        at: Point,
        variance_m2: f64,
        amount_mol: f64,
        rate_mol_s: f64,
        now: Time,
    ) {
        let new = ScentSource {
            at,
            variance_m2,
            since: now,
            amount_mol: 0.0,
            as_of: now,
            rate_mol_s: 0.0,
        };
        let source = self.source.get_or_insert(new);
        source.amount_mol += amount_mol;
        source.rate_mol_s = rate_mol_s;
        source.as_of = now;
    }

    /// Finishes the puff in progress and begins the next.
    pub fn finish_puff(&mut self, now: Time) {
        let Some(source) = self.source.take() else { return };
        let released_mol = source.released_mol(now);
        if released_mol > 0.0 {
            self.released.steadily_mol += released_mol;
            self.add(source.puff(now, &self.water));
        }
        if source.rate_mol_s > 0.0 {
            self.source = Some(ScentSource { since: now, amount_mol: 0.0, as_of: now, ..source });
        }
    }

    /// Scent released in finished puffs so far.
    #[must_use]
    pub fn released(&self) -> ReleasedScent {
        self.released
    }

    /// Start and amount of the puff in progress [mol]; `None` if no bait is releasing scent.
    #[must_use]
    pub fn puff_in_progress(&self, now: Time) -> Option<(Time, f64)> {
        self.source.as_ref().map(|source| (source.since, source.released_mol(now)))
    }

    /// Releases one puff at once, no earlier than the last one. If there are too many, two neighbours in age are merged.
    ///
    /// Merging keeps the amount, the centre of mass and the second moments.
    pub fn release(&mut self, puff: Puff) {
        self.released.at_once_mol += puff.amount_mol;
        self.add(puff);
    }

    fn add(&mut self, puff: Puff) {
        // All puffs are updated to the time of the last release, so that a concentration needs only one age.
        let aging = Aging::between(self.as_of, puff.since, &self.water);
        for kept in &mut self.puffs {
            *kept = kept.aged(&aging);
        }
        self.as_of = puff.since;
        self.puffs.push(puff);
        if self.puffs.len() > MAX_PUFFS {
            self.merge_closest();
        }
        self.extents.clear();
        self.extents.extend(self.puffs.iter().map(|puff| PlumeExtent::new(puff, self.along)));
        self.reach = self.extents.iter().fold(PlumeExtent::EMPTY, PlumeExtent::union);
    }

    /// Merges the two neighbours in age for which the error is smallest.
    fn merge_closest(&mut self) {
        let closest = self.closest_pair();
        self.puffs[closest] = merged(&self.puffs[closest], &self.puffs[closest + 1]);
        self.puffs.remove(closest + 1);
    }

    /// Index of the first of the two neighbours that are best replaced by one Gaussian: their peaks flatten least.
    ///
    /// Of the measures tried (distance over spread, information lost, area gained) this one has the smallest error at
    /// the worst point; V-32 states that error.
    fn closest_pair(&self) -> usize {
        let peak = |puff: &Puff| puff.amount_mol / puff.area_squared_m4().sqrt();
        let mut closest = 0;
        let mut smallest = f64::INFINITY;
        let mut older = self.puffs.first().map_or(0.0, peak);
        for (i, pair) in self.puffs.windows(2).enumerate() {
            let younger = peak(&pair[1]);
            let flattened = (older + younger - peak(&merged(&pair[0], &pair[1]))).abs();
            if flattened < smallest {
                (closest, smallest) = (i, flattened);
            }
            older = younger;
        }
        closest
    }

    /// Concentration at a point [mol/m³].
    #[must_use]
    pub fn concentration_mol_m3(&self, point: Point, now: Time) -> f64 {
        let finished_mol_m3 = self.finished_mol_m3(point, now);
        match &self.source {
            Some(source) if source.reaches(point, now, &self.water) => {
                finished_mol_m3
                    + self.per_layer(density(&source.puff(now, &self.water), point, 0.0))
            }
            _ => finished_mol_m3,
        }
    }

    /// Concentration at a point from finished puffs alone, at a time no earlier than the last of them [mol/m³].
    #[must_use]
    pub fn finished_mol_m3(&self, point: Point, now: Time) -> f64 {
        let age_s = now.seconds_since(self.as_of);
        let spread_m2 = 2.0 * self.water.diffusivity_m2_s * age_s;
        let (u_m_s, v_m_s) = self.water.flow_m_s;
        // The point moved back by the drift to the time of the stored puffs.
        let earlier = Point { x_m: point.x_m - u_m_s * age_s, y_m: point.y_m - v_m_s * age_s };
        let (along_m, across_m) = rotated(earlier, self.along);
        // Spreading adds at most its own reach, since √(a + b) ≤ √a + √b.
        let margin_m = (REACH_VARIANCES * spread_m2).sqrt();
        if !self.reach.contains(along_m, across_m, margin_m) {
            return 0.0;
        }
        let mut sum = 0.0;
        for (puff, extent) in self.puffs.iter().zip(&self.extents) {
            if extent.contains(along_m, across_m, margin_m) {
                sum += density(puff, earlier, spread_m2);
            }
        }
        if sum > 0.0 { self.per_layer(sum * exp(-self.water.loss_per_s * age_s)) } else { 0.0 }
    }

    /// Concentration at an amount per area [mol/m³], which is given times 2π [mol/m²].
    #[inline]
    fn per_layer(&self, amount_mol_m2: f64) -> f64 {
        amount_mol_m2 / (std::f64::consts::TAU * self.water.layer_m)
    }

    /// Whether any puff is finished.
    #[must_use]
    pub fn has_finished_puffs(&self) -> bool {
        !self.puffs.is_empty()
    }

    /// Whether scent of the puff in progress, or of any puff that is released at a place from `now` on, could be smelt at a
    /// point at a later time.
    ///
    /// What was released up to d ago is centred at most u·d down the flow. Its variance is at most σ² + 2K·d across the flow,
    /// and (u·d)²/12 more along it; σ² is the variance of a new puff.
    #[must_use]
    pub fn fresh_scent_reaches(
        &self,
        point: Point,
        released_at: Point,
        variance_m2: f64,
        (now, later): (Time, Time),
    ) -> bool {
        let since = self.source.as_ref().map_or(now, |source| source.since);
        let duration_s = later.seconds_since(since);
        let from_there =
            Point { x_m: point.x_m - released_at.x_m, y_m: point.y_m - released_at.y_m };
        let (along_m, across_m) = rotated(from_there, self.along);
        let (u_m_s, v_m_s) = self.water.flow_m_s;
        let drift_m = (u_m_s * self.along.0 + v_m_s * self.along.1) * duration_s;
        let spread_m2 = variance_m2 + 2.0 * self.water.diffusivity_m2_s * duration_s;
        if across_m * across_m > REACH_VARIANCES * spread_m2 {
            return false;
        }
        let reach_m = (REACH_VARIANCES * (spread_m2 + drift_m * drift_m / 12.0)).sqrt();
        within(along_m, (0.0, drift_m), reach_m)
    }

    /// All attractant in the water at `now` [mol].
    #[must_use]
    pub fn amount_mol(&self, now: Time) -> f64 {
        self.puffs(now).map(|puff| puff.amount_mol).sum()
    }

    /// All puffs as they are at `now`, the puff in progress last.
    pub fn puffs(&self, now: Time) -> impl Iterator<Item = Puff> + '_ {
        let current = self.source.as_ref().map(|source| source.puff(now, &self.water));
        let aging = Aging::between(self.as_of, now, &self.water);
        self.puffs.iter().map(move |puff| puff.aged(&aging)).chain(current)
    }
}

/// A rectangle along the flow, outside which no puff can be smelt.
///
/// In any direction x, a point is at least |x − x₀|/σₓ standard deviations from a puff's centre.
#[derive(Clone, Copy, Debug, PartialEq)]
struct PlumeExtent {
    along_m: (f64, f64),
    across_m: (f64, f64),
}

/// Coordinates of a point along a direction and to the left of it [m].
#[inline]
fn rotated(point: Point, along: (f64, f64)) -> (f64, f64) {
    (point.x_m * along.0 + point.y_m * along.1, point.y_m * along.0 - point.x_m * along.1)
}

/// Whether a coordinate is inside an interval that is widened by a margin on each side.
#[inline]
fn within(coordinate_m: f64, (low_m, high_m): (f64, f64), margin_m: f64) -> bool {
    low_m - margin_m <= coordinate_m && coordinate_m <= high_m + margin_m
}

impl PlumeExtent {
    const EMPTY: Self = Self {
        along_m: (f64::INFINITY, f64::NEG_INFINITY),
        across_m: (f64::INFINITY, f64::NEG_INFINITY),
    };

    /// The rectangle in which one stored puff can be smelt.
    fn new(puff: &Puff, along: (f64, f64)) -> Self {
        let side = |centre_m: f64, (x, y): (f64, f64)| {
            let variance_m2 = puff.variance_x_m2 * x * x
                + 2.0 * puff.covariance_m2 * x * y
                + puff.variance_y_m2 * y * y;
            let half_m = (REACH_VARIANCES * variance_m2).sqrt();
            (centre_m - half_m, centre_m + half_m)
        };
        let (along_m, across_m) = rotated(puff.centre, along);
        Self { along_m: side(along_m, along), across_m: side(across_m, (-along.1, along.0)) }
    }

    /// The smallest rectangle that contains both.
    fn union(self, other: &Self) -> Self {
        let side = |a: (f64, f64), b: (f64, f64)| (a.0.min(b.0), a.1.max(b.1));
        Self {
            along_m: side(self.along_m, other.along_m),
            across_m: side(self.across_m, other.across_m),
        }
    }

    /// Whether a point is inside the rectangle, widened by a margin on each side.
    #[inline]
    fn contains(&self, along_m: f64, across_m: f64, margin_m: f64) -> bool {
        within(across_m, self.across_m, margin_m) && within(along_m, self.along_m, margin_m)
    }
}

/// Amount per area at a point, of a puff that has spread by a further `spread_m2`, loss not included [mol/m², times 2π].
#[inline]
fn density(puff: &Puff, point: Point, spread_m2: f64) -> f64 {
    let (dx, dy) = (point.x_m - puff.centre.x_m, point.y_m - puff.centre.y_m);
    let (xx, yy) = (puff.variance_x_m2 + spread_m2, puff.variance_y_m2 + spread_m2);
    let xy = puff.covariance_m2;
    let determinant = xx * yy - xy * xy;
    let form = yy * dx * dx - 2.0 * xy * dx * dy + xx * dy * dy;
    if form >= REACH_VARIANCES * determinant {
        return 0.0;
    }
    puff.amount_mol / determinant.sqrt() * exp(-0.5 * form / determinant)
}
