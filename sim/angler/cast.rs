//! Where a cast lands.

use super::params::AnglerParams;
use crate::engine::Dice;
use crate::water::{Chart, Point};

/// RigState for which the book states what wind does to a cast, and how well it pricks [kg].
pub(super) const REFERENCE_RIG_KG: f64 = 0.03;

/// Result of one cast.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Landing {
    /// Where the cast landed.
    pub at: Point,
    /// Whether it landed too far from the mark and is wound in at once.
    pub short: bool,
    /// Whether the rig snagged.
    pub snagged: bool,
}

/// Casts at a mark.
///
/// Its error along and across the cast grows with distance, and with the wind by `wind_cast_s_per_m` of a rig of 30 g, less
/// for a heavier one by the square root of its mass. A cast that comes down in cover snags with the book's chance.
pub fn cast(
    mark: Point,
    rig_kg: f64,
    wind_m_s: f64,
    chart: &Chart,
    params: &AnglerParams,
    dice: &mut Dice,
) -> Landing {
    let distance_m = mark.distance_m(Point::default()).max(1.0);
    let drift = params.wind_cast_s_per_m * wind_m_s * (REFERENCE_RIG_KG / rig_kg.max(1e-3)).sqrt();
    let spread_m = params.cast_spread_share * distance_m * (1.0 + drift);
    let along_m = dice.normal() * spread_m;
    let across_m = dice.normal() * spread_m;
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
