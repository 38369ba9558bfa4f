//! Chart of the water: depths, features and lines to fish.

use schemars::JsonSchema;
use serde::Serialize;

use super::cover::distance_to_cover_m;
use super::feature::Feature;
use super::point::Point;
use super::soundings::Bathymetry;
use crate::engine::indexed_by;

/// A line, by its index in the scenario.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, JsonSchema,
)]
#[serde(transparent)]
pub struct LineId(pub usize);

impl LineId {
    /// Every line of a scenario with `count`.
    pub fn all(count: usize) -> impl Iterator<Item = Self> {
        (0..count).map(Self)
    }
}

indexed_by!(LineId: Line);

/// One line: a spot that the angler fishes.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The name under which it stands in the scenario.
    pub name: String,
    /// The mark at which casts are aimed.
    pub at: Point,
}

/// The water seen from above.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    /// Extent along the bank, with the peg in the middle [m].
    pub width_m: f64,
    /// Extent away from the bank [m].
    pub length_m: f64,
    /// The bed away from features that have a depth of their own.
    pub bed: Bathymetry,
    /// Features; where they overlap, the first one counts.
    pub features: Vec<Feature>,
}

impl Chart {
    /// Depth at a point: a feature's own, or else that of the bed between its soundings [m].
    #[must_use]
    pub fn depth_m(&self, point: Point) -> f64 {
        let feature = self.features.iter().find(|feature| feature.contains(point));
        feature.and_then(|feature| feature.depth_m).unwrap_or_else(|| self.bed.depth_m(point))
    }

    /// Whether a cast that lands at a point can snag.
    #[must_use]
    pub fn is_cover(&self, point: Point) -> bool {
        self.features.iter().any(|feature| feature.is_cover && feature.contains(point))
    }

    /// Distance from a place to the nearest cover, 0 inside it; infinite where there is none [m].
    #[must_use]
    pub fn cover_distance_m(&self, place: Point) -> f64 {
        distance_to_cover_m(&self.features, place).unwrap_or(f64::INFINITY)
    }

    /// The nearest point that is in the water.
    #[inline]
    #[must_use]
    pub fn clamp(&self, point: Point) -> Point {
        let half_m = 0.5 * self.width_m;
        let nearest = |at_m: f64, low_m: f64, high_m: f64| {
            if at_m < low_m {
                low_m
            } else if at_m > high_m {
                high_m
            } else {
                at_m
            }
        };
        Point {
            x_m: nearest(point.x_m, -half_m, half_m),
            y_m: nearest(point.y_m, 0.0, self.length_m),
        }
    }

    /// Whether a point is in the water.
    #[must_use]
    pub fn contains(&self, point: Point) -> bool {
        point.x_m.abs() <= 0.5 * self.width_m && (0.0..=self.length_m).contains(&point.y_m)
    }
}
