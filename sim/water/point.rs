//! A point on the chart.

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
