//! How the load of a feeder opens on the bed.

use super::params::BaitParams;
use super::recipe::Recipe;
use crate::engine::Dice;

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
    /// Draws one opening; `compression` is how hard the load was pressed (1 = ordinary).
    pub fn draw(
        recipe: &Recipe,
        style: LoadStyle,
        compression: f64,
        params: &BaitParams,
        dice: &mut Dice,
    ) -> Self {
        let starts_s = dice.lognormal(
            recipe.opens_after_s * params.opens_factor * compression,
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
