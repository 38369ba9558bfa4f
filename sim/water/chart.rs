//! Chart of the water: depths, features and lines to fish.

use std::ops::Index;

use serde::Serialize;

/// A point on the chart [m].
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// Along the bank, to the right of the peg [m].
    pub x_m: f64,
    /// Away from the bank [m].
    pub y_m: f64,
}

impl Point {
    /// Straight-line distance to another point [m].
    #[inline]
    #[must_use]
    pub fn distance_m(self, other: Self) -> f64 {
        self.squared_distance_m2(other).sqrt()
    }

    /// Square of the distance to another point, for comparisons [m²].
    #[inline]
    #[must_use]
    pub fn squared_distance_m2(self, other: Self) -> f64 {
        let (dx, dy) = (self.x_m - other.x_m, self.y_m - other.y_m);
        dx * dx + dy * dy
    }

    /// The point at a share of the way to another point: 0 here, 1 there.
    #[inline]
    #[must_use]
    pub fn towards(self, other: Self, share: f64) -> Self {
        Self {
            x_m: self.x_m + share * (other.x_m - self.x_m),
            y_m: self.y_m + share * (other.y_m - self.y_m),
        }
    }
}

/// Depth measured at a distance from the peg, along the cast.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sounding {
    /// Distance from the peg [m].
    pub distance_m: f64,
    /// Depth there [m].
    pub depth_m: f64,
}

/// A bar, shelf, island margin, reed edge or trough: an ellipse with its own depth or cover.
#[derive(Clone, Debug, PartialEq)]
pub struct Feature {
    /// The name under which it stands in the scenario.
    pub name: String,
    /// Centre.
    pub centre: Point,
    /// Half its length along the bank [m].
    pub half_length_m: f64,
    /// Half its width away from the bank [m].
    pub half_width_m: f64,
    /// Its own depth, if it differs from the soundings [m].
    pub depth_m: Option<f64>,
    /// Whether a cast that lands in it can snag, as in reeds or under branches.
    pub is_cover: bool,
}

impl Feature {
    /// Whether a point is inside the ellipse.
    #[must_use]
    pub fn contains(&self, point: Point) -> bool {
        let u = (point.x_m - self.centre.x_m) / self.half_length_m;
        let v = (point.y_m - self.centre.y_m) / self.half_width_m;
        u * u + v * v <= 1.0
    }
}

/// A line, by its index in the scenario.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(transparent)]
pub struct LineId(pub usize);

impl LineId {
    /// Every line of a scenario with `count`.
    pub fn all(count: usize) -> impl Iterator<Item = Self> {
        (0..count).map(Self)
    }
}

impl Index<LineId> for Vec<Line> {
    type Output = Line;

    fn index(&self, line: LineId) -> &Line {
        &self[line.0]
    }
}

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
    /// Depths along the cast, in order of distance; there is at least one.
    pub soundings: Vec<Sounding>,
    /// Features; where they overlap, the first one counts.
    pub features: Vec<Feature>,
}

impl Chart {
    /// Depth at a point: a feature's own, or else interpolated between the soundings by distance from the peg [m].
    ///
    /// # Panics
    ///
    /// If the chart has no soundings.
    #[must_use]
    pub fn depth_m(&self, point: Point) -> f64 {
        let feature = self.features.iter().find(|feature| feature.contains(point));
        if let Some(depth_m) = feature.and_then(|feature| feature.depth_m) {
            return depth_m;
        }
        let distance_m = point.distance_m(Point::default());
        let beyond = self.soundings.partition_point(|sounding| sounding.distance_m < distance_m);
        let last = self.soundings.last().expect("a chart has at least one sounding");
        match (beyond.checked_sub(1).map(|i| self.soundings[i]), self.soundings.get(beyond)) {
            (None, Some(first)) => first.depth_m,
            (_, None) => last.depth_m,
            (Some(near), Some(far)) => {
                let share = (distance_m - near.distance_m) / (far.distance_m - near.distance_m);
                near.depth_m + share * (far.depth_m - near.depth_m)
            }
        }
    }

    /// Whether a cast that lands at a point can snag.
    #[must_use]
    pub fn is_cover(&self, point: Point) -> bool {
        self.features.iter().any(|feature| feature.is_cover && feature.contains(point))
    }

    /// The nearest point that is in the water.
    #[must_use]
    pub fn clamp(&self, point: Point) -> Point {
        let half_m = 0.5 * self.width_m;
        Point { x_m: point.x_m.clamp(-half_m, half_m), y_m: point.y_m.clamp(0.0, self.length_m) }
    }

    /// Whether a point is in the water.
    #[must_use]
    pub fn contains(&self, point: Point) -> bool {
        point.x_m.abs() <= 0.5 * self.width_m && (0.0..=self.length_m).contains(&point.y_m)
    }
}
