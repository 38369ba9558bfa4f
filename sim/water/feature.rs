//! Features of the water: bars, shelves, margins, reed beds.

use super::point::Point;

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
