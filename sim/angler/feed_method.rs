//! Ways to get loose feed onto a line: each has its time, its spread, its sound and its reach.

use super::params::AnglerParams;

/// How loose feed gets onto a line.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum FeedMethod {
    /// By catapult: a pouch.
    #[default]
    Catapult,
    /// Thrown by hand.
    Hand,
    /// In a pot on a pole, lowered and tipped.
    Pot,
    /// Pressed into a ball and thrown: it falls whole and breaks up on the bed.
    Ball,
}

impl FeedMethod {
    /// Time for one throw [s].
    #[must_use]
    pub fn throw_s(self, params: &AnglerParams) -> f64 {
        match self {
            Self::Catapult => params.feed_s,
            Self::Hand => params.hand_feed_s,
            Self::Pot => params.pot_feed_s,
            Self::Ball => params.ball_feed_s,
        }
    }

    /// Radius over which the feed lies, as a multiple of that of a catapult. `None` for a catapult.
    #[must_use]
    pub fn radius_times(self, params: &AnglerParams) -> Option<f64> {
        match self {
            Self::Catapult => None,
            Self::Hand => Some(params.hand_radius_times),
            Self::Pot => Some(params.pot_radius_times),
            Self::Ball => Some(params.ball_radius_times),
        }
    }

    /// How loud it is, as a share of the same amount thrown.
    #[must_use]
    pub fn loudness_share(self, params: &AnglerParams) -> f64 {
        match self {
            Self::Pot => params.pot_loudness_share,
            Self::Catapult | Self::Hand | Self::Ball => 1.0,
        }
    }

    /// Whether the feed falls whole, so that fish on its way down meet nothing.
    #[must_use]
    pub fn falls_whole(self) -> bool {
        self == Self::Ball
    }

    /// Greatest distance [m]: common practice, no source.
    #[must_use]
    pub fn reach_m(self) -> f64 {
        match self {
            Self::Catapult => 60.0,
            Self::Hand => 14.0,
            Self::Pot => 16.0,
            Self::Ball => 40.0,
        }
    }

    /// Greatest amount at a time [kg]: common practice, no source.
    #[must_use]
    pub fn max_amount_kg(self) -> f64 {
        match self {
            Self::Catapult => 0.06,
            Self::Hand => 0.15,
            Self::Pot => 0.35,
            Self::Ball => 0.5,
        }
    }

    /// How it is said after an amount: `by hand`. `None` for a catapult, which goes without saying.
    #[must_use]
    pub fn words(self) -> Option<&'static str> {
        match self {
            Self::Catapult => None,
            Self::Hand => Some("by hand"),
            Self::Pot => Some("from a pot"),
            Self::Ball => Some("in a ball"),
        }
    }
}
