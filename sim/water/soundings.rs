//! Depth from soundings: a profile away from the bank, bent towards what was measured at a place.

use super::point::Point;
use crate::numerics::square;

/// Smallest depth of water [m].
const MIN_DEPTH_M: f64 = 0.05;

/// Distance within which a place is the place of a sounding [m].
const SAME_PLACE_M: f64 = 1e-6;

/// Depth at a distance from the bank, the same all along it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BankSounding {
    /// Distance from the bank [m].
    pub distance_m: f64,
    /// Depth there [m].
    pub depth_m: f64,
}

/// Depth measured at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlacedSounding {
    /// Where the depth was measured.
    pub at: Point,
    /// Depth there [m].
    pub depth_m: f64,
}

/// The bed of a water as its soundings have it; the bank is the line y = 0.
///
/// ```
/// use sim::water::{BankSounding, Bathymetry, PlacedSounding, Point};
/// let margin = BankSounding { distance_m: 2.0, depth_m: 0.6 };
/// let open_water = BankSounding { distance_m: 20.0, depth_m: 2.4 };
/// let hole = PlacedSounding { at: Point { x_m: -6.0, y_m: 11.0 }, depth_m: 2.2 };
/// let bed = Bathymetry::new(vec![margin, open_water], vec![hole], 8.0);
/// let depth_m = |x_m, y_m| bed.depth_m(Point { x_m, y_m });
/// assert!((depth_m(0.0, 2.0) - 0.6).abs() < 1e-9 && (depth_m(30.0, 2.0) - 0.6).abs() < 1e-9);
/// assert!((depth_m(-6.0, 11.0) - 2.2).abs() < 1e-9);
/// assert!((depth_m(6.0, 11.0) - 1.5).abs() < 1e-9);
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Bathymetry {
    /// In order of distance, each distance once.
    profile: Vec<BankSounding>,
    /// Soundings with a place, each with its depth less that of the profile [m].
    placed: Vec<(Point, f64)>,
    /// Distance within which a sounding with a place counts [m].
    range_m: f64,
    /// Smallest and largest depth that was written [m].
    bounds_m: [f64; 2],
}

impl Bathymetry {
    /// A bed from soundings by distance from the bank, soundings at a place, and the reach of those at a place [m].
    ///
    /// Soundings at the same distance, or at the same place, are averaged. Without soundings by distance the profile
    /// is level, at the mean of those with a place.
    ///
    /// # Panics
    ///
    /// If there are no soundings at all, or if the range is not positive.
    #[must_use]
    pub fn new(mut profile: Vec<BankSounding>, placed: Vec<PlacedSounding>, range_m: f64) -> Self {
        assert!(range_m > 0.0, "the range of a sounding is positive, not {range_m} m");
        let depths = || {
            let by_distance = profile.iter().map(|sounding| sounding.depth_m);
            by_distance.chain(placed.iter().map(|sounding| sounding.depth_m))
        };
        let bounds_m = [
            depths().fold(f64::INFINITY, f64::min).max(MIN_DEPTH_M),
            depths().fold(f64::NEG_INFINITY, f64::max).max(MIN_DEPTH_M),
        ];
        if profile.is_empty() {
            assert!(!placed.is_empty(), "a bed has at least one sounding");
            let sum_m: f64 = placed.iter().map(|sounding| sounding.depth_m).sum();
            let depth_m = sum_m / placed.len() as f64;
            profile.push(BankSounding { distance_m: 0.0, depth_m });
        }
        profile.sort_by(|a, b| a.distance_m.total_cmp(&b.distance_m));
        let profile = profile
            .chunk_by(|a, b| a.distance_m.total_cmp(&b.distance_m).is_eq())
            .map(|same| {
                let sum_m: f64 = same.iter().map(|sounding| sounding.depth_m).sum();
                BankSounding { distance_m: same[0].distance_m, depth_m: sum_m / same.len() as f64 }
            })
            .collect();
        let mut bed = Self { profile, placed: Vec::new(), range_m, bounds_m };
        bed.placed = placed
            .iter()
            .map(|sounding| (sounding.at, sounding.depth_m - bed.profile_m(sounding.at.y_m)))
            .collect();
        bed
    }

    /// Depth of the profile at a distance from the bank: straight lines between its soundings, level beyond them [m].
    fn profile_m(&self, distance_m: f64) -> f64 {
        let after = self.profile.partition_point(|sounding| sounding.distance_m <= distance_m);
        if after == 0 {
            return self.profile[0].depth_m;
        }
        let near = self.profile[after - 1];
        self.profile.get(after).map_or(near.depth_m, |far| {
            let share = (distance_m - near.distance_m) / (far.distance_m - near.distance_m);
            near.depth_m + share * (far.depth_m - near.depth_m)
        })
    }

    /// Depth at a place [m].
    ///
    /// The profile at its distance y from the bank, plus Σ wᵢrᵢ / (1 + Σ wᵢ) over the soundings with a place within
    /// the range R: rᵢ what sounding i is deeper than the profile, wᵢ = (R/dᵢ − 1)², dᵢ its distance. Half of rᵢ is
    /// left at half the range, nothing at the range. A sounding that agrees with the profile changes nothing.
    ///
    /// - **Holds for** a straight bank. Exact at each sounding with a place; exact at soundings by distance wherever
    ///   none with a place is within range; everywhere between the smallest and the largest depth that was written,
    ///   and never below 0.05 m; without jumps.
    /// - **Source** `shepard-1968` (inverse-distance weights), `franke-1982` (weights that end at a range).
    /// - **Checked by** V-215 (each of these, and that depths make no rings round the peg).
    #[must_use]
    pub fn depth_m(&self, place: Point) -> f64 {
        let (mut weights, mut weighted_m) = (1.0, 0.0);
        let (mut same_place, mut same_place_m) = (0_u32, 0.0);
        for &(at, deeper_m) in &self.placed {
            let distance_m = at.distance_m(place);
            if distance_m < SAME_PLACE_M {
                same_place += 1;
                same_place_m += deeper_m;
            } else if distance_m < self.range_m {
                let weight = square(self.range_m / distance_m - 1.0);
                weights += weight;
                weighted_m += weight * deeper_m;
            }
        }
        let deeper_m = if same_place > 0 {
            same_place_m / f64::from(same_place)
        } else {
            weighted_m / weights
        };
        let [low_m, high_m] = self.bounds_m;
        (self.profile_m(place.y_m) + deeper_m).clamp(low_m, high_m)
    }

    /// Smallest and largest depth that was written, not below 0.05 m [m].
    ///
    /// - **Checked by** V-215 (no depth lies outside).
    #[must_use]
    pub fn bounds_m(&self) -> [f64; 2] {
        self.bounds_m
    }
}
