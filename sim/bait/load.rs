//! A feeder's load opening up on the bed.

use super::params::BaitParams;
use super::recipe::Recipe;
use crate::engine::Dice;

/// Where the hookbait sits in the load.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LoadStyle {
    /// Pushed into the top: can be taken as soon as the load starts to open, but may end off the pile.
    Top,
    /// In the middle: can be taken only once the load is down, and then at the centre of the pile.
    Buried,
}

/// When one load opens, counted from its landing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Opening {
    /// Until it starts to open [s].
    pub starts_s: f64,
    /// Until all of it is down [s].
    pub down_s: f64,
    /// Whether the hookbait ends on the pile.
    pub on_pile: bool,
}

impl Opening {
    /// Draws one opening for a load pressed as hard as `squeeze` (1 = ordinary).
    pub fn draw(
        recipe: &Recipe,
        style: LoadStyle,
        squeeze: f64,
        params: &BaitParams,
        dice: &mut Dice,
    ) -> Self {
        let starts_s = dice.lognormal(recipe.opens_after_s * squeeze, params.opening_spread_ln);
        let lasts_s =
            starts_s * dice.lognormal(params.opening_length_ratio, params.opening_spread_ln);
        let strays = dice.chance(params.top_strays_share);
        Self {
            starts_s,
            down_s: starts_s + lasts_s,
            on_pile: style == LoadStyle::Buried || !strays,
        }
    }
}
