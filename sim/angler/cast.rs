//! Where a cast lands.

use super::params::AnglerParams;
use crate::engine::Dice;
use crate::water::{Chart, Point};

/// Result of one cast.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Landing {
    /// Where it landed.
    pub at: Point,
    /// Whether it landed too far from the mark and is wound in at once.
    pub short: bool,
    /// Whether it snagged.
    pub snagged: bool,
}

/// Casts at a mark.
///
/// The line is clipped, so a cast can fall short but not long. Its errors along and across the cast grow with distance.
/// A cast that lands in cover snags with the chance in the book.
pub fn cast(mark: Point, chart: &Chart, params: &AnglerParams, dice: &mut Dice) -> Landing {
    let distance_m = mark.distance_m(Point::default()).max(1.0);
    let along_m = -(dice.normal() * params.cast_spread_share * distance_m).abs();
    let across_m = dice.normal() * params.cast_spread_share * distance_m;
    let (ux, uy) = (mark.x_m / distance_m, mark.y_m / distance_m);
    let at = chart.clamp(Point {
        x_m: mark.x_m + along_m * ux - across_m * uy,
        y_m: mark.y_m + along_m * uy + across_m * ux,
    });
    let snags = dice.bernoulli(params.snag_share);
    Landing {
        at,
        short: at.distance_m(mark) > params.recast_beyond_m,
        snagged: snags && chart.is_cover(at),
    }
}
