//! How the load of a feeder opens on the bed.

use super::params::BaitParams;
use super::recipe::Recipe;
use crate::engine::Dice;
use crate::numerics::{cbrt, powf};

/// Load for which the books state how long it takes to open and how far its pile reaches [kg].
pub const REFERENCE_LOAD_KG: f64 = 0.025;

/// Smallest load whose pile is any smaller than that of a larger one [kg].
const MIN_PILE_KG: f64 = 1e-3;

/// Radius of the pile of one load [m]: piles have one shape, so it grows with the cube root of the mass, from that of the
/// smallest pinch that a feeder drops.
///
/// - **Checked by** V-388.
#[must_use]
pub fn pile_radius_m(load_kg: f64, params: &BaitParams) -> f64 {
    let scale = cbrt(load_kg.max(MIN_PILE_KG) / REFERENCE_LOAD_KG);
    params.pile_radius_m * scale
}

/// Where the hookbait sits in the load.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LoadStyle {
    /// Pushed into the top: fish can take it as soon as the load starts to open, but it may end off the pile.
    Top,
    /// In the middle: fish can take it only once all of the load is down, at the centre of the pile.
    Buried,
}

/// When one load opens, counted from its landing on the bed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Opening {
    /// Time until it starts to open [s].
    pub starts_s: f64,
    /// Time until all of it is down [s].
    pub down_s: f64,
    /// Whether the hookbait ends on the pile.
    pub on_pile: bool,
}

impl Opening {
    /// Draws the opening of a load of `load_kg`; `compression` is how hard it was pressed (1 = ordinary).
    ///
    /// Water soaks in by diffusion, in a time that grows with the square of the thickness and so with the two-thirds
    /// power of the mass; the book has the power. A pinch opens at once.
    pub fn draw(
        recipe: &Recipe,
        load_kg: f64,
        style: LoadStyle,
        compression: f64,
        params: &BaitParams,
        dice: &mut Dice,
    ) -> Self {
        let thickness = powf(load_kg / REFERENCE_LOAD_KG, params.opening_load_exponent);
        let starts_s = dice.lognormal(
            recipe.opens_after_s * params.opens_factor * compression * thickness,
            params.opening_spread_ln,
        );
        let lasts_s =
            starts_s * dice.lognormal(params.opening_length_ratio, params.opening_spread_ln);
        let rolls_off = dice.bernoulli(params.top_strays_share);
        Self {
            starts_s,
            down_s: starts_s + lasts_s,
            on_pile: style == LoadStyle::Buried || !rolls_off,
        }
    }
}
