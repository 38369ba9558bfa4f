//! The scent over one line: what its bait gives off, as puffs that drift, spread and thin.

use super::puff::{Aging, Mixing, Puff, merged};
use crate::engine::Time;
use crate::water::Point;

/// Bait that gives off scent evenly, from the last whole puff on.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Source {
    at: Point,
    variance_m2: f64,
    /// Since when.
    since: Time,
    /// What it had given off by a time [mol].
    given_mol: f64,
    as_of: Time,
    /// What it gives off from then on [mol/s].
    rate_mol_s: f64,
}

impl Source {
    /// Whether the puff that it has given off until `now` reaches so far.
    #[inline]
    fn reaches(&self, place: Point, now: Time, water: &Mixing) -> bool {
        let lasts_s = now.seconds_since(self.since);
        let round_m2 = self.variance_m2 + water.diffusivity_m2_s * lasts_s;
        let within = |off_m: f64, flow_m_s: f64| {
            let way_m = flow_m_s * lasts_s;
            let off_m = off_m - 0.5 * way_m;
            off_m * off_m <= REACH_VARIANCES * (round_m2 + way_m * way_m / 12.0)
        };
        within(place.x_m - self.at.x_m, water.flow_m_s.0)
            && within(place.y_m - self.at.y_m, water.flow_m_s.1)
    }

    fn given_mol(&self, now: Time) -> f64 {
        self.given_mol + self.rate_mol_s * now.seconds_since(self.as_of)
    }

    /// What it has given off until `now`, as one puff.
    fn so_far(&self, now: Time, water: &Mixing) -> Puff {
        let amount_mol = self.given_mol(now);
        Puff::drawn_out(amount_mol, self.at, self.variance_m2, (self.since, now), water)
    }
}

/// What was let go in whole puffs, whatever became of it since.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct LetGo {
    /// All at once [mol].
    pub at_once_mol: f64,
    /// Steadily, from one puff to the next [mol].
    pub steadily_mol: f64,
}

/// The puffs over one line, their number bounded by merging neighbours in age, and the one that is being let go.
#[derive(Clone, Debug, PartialEq)]
pub struct Plume {
    puffs: Vec<Puff>,
    /// The time as of which the puffs are kept.
    as_of: Time,
    /// How far they were smelt then, seen along the flow.
    reach: Extent,
    /// Which way the flow goes, as a vector of length one.
    along: (f64, f64),
    source: Option<Source>,
    let_go: LetGo,
    water: Mixing,
}

/// Puffs kept at most; beyond it two neighbours in age become one.
const MOST_PUFFS: usize = 10;
/// Beyond this many variances a puff is not smelt at all: exp(−12.5) is four millionths.
const REACH_VARIANCES: f64 = 25.0;

impl Plume {
    /// No scent yet.
    #[must_use]
    pub fn new(layer_m: f64, diffusivity_m2_s: f64, flow_m_s: (f64, f64), loss_per_s: f64) -> Self {
        let (sin, cos) = flow_m_s.1.atan2(flow_m_s.0).sin_cos();
        Self {
            along: (cos, sin),
            puffs: Vec::with_capacity(MOST_PUFFS + 1),
            as_of: Time::ZERO,
            reach: Extent::NOWHERE,
            source: None,
            let_go: LetGo::default(),
            water: Mixing { layer_m, diffusivity_m2_s, flow_m_s, loss_per_s },
        }
    }

    /// How the water here carries, spreads and thins scent.
    #[must_use]
    pub fn water(&self) -> &Mixing {
        &self.water
    }

    /// Bait at a place has given off so much since this was last said, and gives so much a second from now on.
    ///
    /// Until [`Self::puff_is_whole`] it is smelt as the puff that a steady release of all of it would have left.
    pub fn gives_off(
        &mut self,
        at: Point,
        variance_m2: f64,
        amount_mol: f64,
        rate_mol_s: f64,
        now: Time,
    ) {
        let begins =
            Source { at, variance_m2, since: now, given_mol: 0.0, as_of: now, rate_mol_s: 0.0 };
        let source = self.source.get_or_insert(begins);
        source.given_mol += amount_mol;
        source.rate_mol_s = rate_mol_s;
        source.as_of = now;
    }

    /// What the bait has given off becomes a puff of its own, and the next begins.
    pub fn puff_is_whole(&mut self, now: Time) {
        let Some(source) = self.source.take() else { return };
        let given_mol = source.given_mol(now);
        if given_mol > 0.0 {
            self.let_go.steadily_mol += given_mol;
            self.take_in(source.so_far(now, &self.water));
        }
        if source.rate_mol_s > 0.0 {
            self.source = Some(Source { since: now, given_mol: 0.0, as_of: now, ..source });
        }
    }

    /// All that was let go in whole puffs so far.
    #[must_use]
    pub fn let_go(&self) -> LetGo {
        self.let_go
    }

    /// What bait has given off since the last whole puff: since when, and how much [mol].
    #[must_use]
    pub fn given_off(&self, now: Time) -> Option<(Time, f64)> {
        self.source.as_ref().map(|source| (source.since, source.given_mol(now)))
    }

    /// Lets go of one puff, none earlier than the last; if there are too many, two neighbours in age become
    /// one.
    ///
    /// Merging keeps the amount, the centre of mass and the second moments.
    pub fn release(&mut self, puff: Puff) {
        self.let_go.at_once_mol += puff.amount_mol;
        self.take_in(puff);
    }

    fn take_in(&mut self, puff: Puff) {
        // All are kept as they have become by the last release, so that a sniff has one age to reckon with.
        let aging = Aging::between(self.as_of, puff.since, &self.water);
        for kept in &mut self.puffs {
            *kept = kept.aged(&aging);
        }
        self.as_of = puff.since;
        self.puffs.push(puff);
        if self.puffs.len() > MOST_PUFFS {
            self.merge_two();
        }
        let reaches = self.puffs.iter().map(|puff| Extent::of(puff, self.along));
        self.reach = reaches.fold(Extent::NOWHERE, Extent::with);
    }

    /// Makes one of the two neighbours in age for which it errs least.
    fn merge_two(&mut self) {
        let closest = self.closest_pair();
        let one = merged(&self.puffs[closest], &self.puffs[closest + 1]);
        self.puffs[closest] = one;
        self.puffs.remove(closest + 1);
    }

    /// The first of the two neighbours for which one Gaussian would stand best: whose peaks would be flattened least.
    ///
    /// Of the measures tried (distance over spread, information lost, area gained) this one errs least at the
    /// worst place; V-32 has by how much.
    fn closest_pair(&self) -> usize {
        let peak = |puff: &Puff| puff.amount_mol / puff.area_squared_m4().sqrt();
        let mut closest = 0;
        let mut least = f64::INFINITY;
        let mut older = self.puffs.first().map_or(0.0, peak);
        for (i, pair) in self.puffs.windows(2).enumerate() {
            let younger = peak(&pair[1]);
            let flattened = (older + younger - peak(&merged(&pair[0], &pair[1]))).abs();
            if flattened < least {
                (closest, least) = (i, flattened);
            }
            older = younger;
        }
        closest
    }

    /// Concentration at a place [mol/m³].
    #[must_use]
    pub fn concentration_mol_m3(&self, place: Point, now: Time) -> f64 {
        let age_s = now.seconds_since(self.as_of);
        let spread_m2 = 2.0 * self.water.diffusivity_m2_s * age_s;
        let (u_m_s, v_m_s) = self.water.flow_m_s;
        // Where it would have been smelt when the puffs were as they are kept.
        let then = Point { x_m: place.x_m - u_m_s * age_s, y_m: place.y_m - v_m_s * age_s };
        let (along_m, across_m) = turned(then, self.along);
        // A spread adds at most its own reach, since √(a + b) ≤ √a + √b.
        let more_m = (REACH_VARIANCES * spread_m2).sqrt();
        let mut sum = 0.0;
        if self.reach.holds(along_m, across_m, more_m) {
            sum = self.puffs.iter().map(|puff| thickness(puff, then, spread_m2)).sum();
            if sum > 0.0 {
                sum *= (-self.water.loss_per_s * age_s).exp();
            }
        }
        if let Some(source) = &self.source
            && source.reaches(place, now, &self.water)
        {
            sum += thickness(&source.so_far(now, &self.water), place, 0.0);
        }
        sum / (std::f64::consts::TAU * self.water.layer_m)
    }

    /// All attractant in the water at `now` [mol].
    #[must_use]
    pub fn amount_mol(&self, now: Time) -> f64 {
        self.puffs(now).map(|puff| puff.amount_mol).sum()
    }

    /// The puffs as they have become by `now`, the one that is being let go last.
    pub fn puffs(&self, now: Time) -> impl Iterator<Item = Puff> + '_ {
        let begun = self.source.as_ref().map(|source| source.so_far(now, &self.water));
        let aging = Aging::between(self.as_of, now, &self.water);
        self.puffs.iter().map(move |puff| puff.aged(&aging)).chain(begun)
    }
}

/// A rectangle along the flow, outside which a puff is not smelt.
///
/// A place lies at least |x − x₀|/σₓ standard deviations from a puff's centre, whichever way x points.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Extent {
    along_m: (f64, f64),
    across_m: (f64, f64),
}

/// How far a place lies along a direction, and how far to its left [m].
#[inline]
fn turned(place: Point, along: (f64, f64)) -> (f64, f64) {
    (place.x_m * along.0 + place.y_m * along.1, place.y_m * along.0 - place.x_m * along.1)
}

/// Whether a place lies between two others that have moved apart by so much each.
#[inline]
fn within(at_m: f64, (low_m, high_m): (f64, f64), more_m: f64) -> bool {
    low_m - more_m <= at_m && at_m <= high_m + more_m
}

impl Extent {
    const NOWHERE: Self = Self {
        along_m: (f64::INFINITY, f64::NEG_INFINITY),
        across_m: (f64::INFINITY, f64::NEG_INFINITY),
    };

    /// Where one puff is smelt as it is kept.
    fn of(puff: &Puff, along: (f64, f64)) -> Self {
        let side = |centre_m: f64, (x, y): (f64, f64)| {
            let variance_m2 = puff.variance_x_m2 * x * x
                + 2.0 * puff.covariance_m2 * x * y
                + puff.variance_y_m2 * y * y;
            let half_m = (REACH_VARIANCES * variance_m2).sqrt();
            (centre_m - half_m, centre_m + half_m)
        };
        let (along_m, across_m) = turned(puff.centre, along);
        Self { along_m: side(along_m, along), across_m: side(across_m, (-along.1, along.0)) }
    }

    /// The least such rectangle around both.
    fn with(self, other: Self) -> Self {
        let side = |a: (f64, f64), b: (f64, f64)| (a.0.min(b.0), a.1.max(b.1));
        Self {
            along_m: side(self.along_m, other.along_m),
            across_m: side(self.across_m, other.across_m),
        }
    }

    /// Whether a place lies within, once each side has moved out by so much.
    #[inline]
    fn holds(&self, along_m: f64, across_m: f64, more_m: f64) -> bool {
        within(across_m, self.across_m, more_m) && within(along_m, self.along_m, more_m)
    }
}

/// What a puff that has spread by so much more adds at a place, but for the layer and its loss [mol/m², times 2π].
#[inline]
fn thickness(puff: &Puff, place: Point, spread_m2: f64) -> f64 {
    let (dx, dy) = (place.x_m - puff.centre.x_m, place.y_m - puff.centre.y_m);
    let (xx, yy) = (puff.variance_x_m2 + spread_m2, puff.variance_y_m2 + spread_m2);
    let xy = puff.covariance_m2;
    let determinant = xx * yy - xy * xy;
    let form = yy * dx * dx - 2.0 * xy * dx * dy + xx * dy * dy;
    if form >= REACH_VARIANCES * determinant {
        return 0.0;
    }
    puff.amount_mol / determinant.sqrt() * (-0.5 * form / determinant).exp()
}
