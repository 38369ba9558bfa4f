//! The traits of a shoal: how its fish respond to sounds, falling feed and hookbaits.

use std::ops::{Index, IndexMut};

use super::params::FishParams;
use crate::engine::Dice;
use crate::params::DailyDistribution;

/// A trait of a shoal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trait {
    /// Share of hungry fish within hearing that come to a feeder's splash.
    ComesToSplash,
    /// Share of fish nearby that a feeder's splash startles.
    StartlesAtSplash,
    /// Share of hungry fish within hearing that come to loose feed.
    ComesToPatter,
    /// Share of fish nearby that loose feed startles.
    StartlesAtPatter,
    /// Share of fish nearby that flee when one is hooked.
    StartlesAtFight,
    /// Readiness to rise for falling feed.
    Rises,
    /// How readily its fish take a hookbait, compared with ordinary fish.
    Boldness,
}

impl Trait {
    /// Every trait, in the order in which they are drawn.
    pub const ALL: [Self; 7] = [
        Self::ComesToSplash,
        Self::StartlesAtSplash,
        Self::ComesToPatter,
        Self::StartlesAtPatter,
        Self::StartlesAtFight,
        Self::Rises,
        Self::Boldness,
    ];

    /// Its value for a shoal that states none: as the book has it, or 1 for boldness.
    fn in_book(self, params: &FishParams) -> f64 {
        match self {
            Self::ComesToSplash => params.comes_to_splash,
            Self::StartlesAtSplash => params.startles_at_splash,
            Self::ComesToPatter => params.comes_to_patter,
            Self::StartlesAtPatter => params.startles_at_patter,
            Self::StartlesAtFight => params.startles_at_fight,
            Self::Rises => params.rises,
            Self::Boldness => 1.0,
        }
    }

    /// A value within the limits of the trait: 0 to 1 for a share, at least 0 for boldness.
    #[must_use]
    pub fn within_limits(self, value: f64) -> f64 {
        if self == Self::Boldness { value.max(0.0) } else { value.clamp(0.0, 1.0) }
    }
}

/// A value for each trait.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Traits<T>([T; Trait::ALL.len()]);

/// Distributions of a shoal's traits, as stated in the scenario; `None` leaves a trait to the book.
pub type TraitPriors = Traits<Option<DailyDistribution>>;

impl<T> Traits<T> {
    /// The traits with the value of each, in the order of [`Trait::ALL`].
    pub fn from_fn(value: impl FnMut(Trait) -> T) -> Self {
        Self(Trait::ALL.map(value))
    }

    /// Each trait with its value.
    pub fn iter(&self) -> impl Iterator<Item = (Trait, &T)> {
        Trait::ALL.into_iter().zip(&self.0)
    }

    /// The values, to change them.
    pub fn values_mut(&mut self) -> impl Iterator<Item = &mut T> {
        self.0.iter_mut()
    }
}

impl<T> Index<Trait> for Traits<T> {
    type Output = T;

    fn index(&self, of: Trait) -> &T {
        &self.0[of as usize]
    }
}

impl<T> IndexMut<Trait> for Traits<T> {
    fn index_mut(&mut self, of: Trait) -> &mut T {
        &mut self.0[of as usize]
    }
}

impl TraitPriors {
    /// Draws the traits of one day: as the scenario states them, or else as the book has them on that day.
    pub fn draw(&self, params: &FishParams, dice: &mut Dice) -> Traits<f64> {
        // Each trait uses one random number, stated or not, so that stating one leaves the rest of the day unchanged.
        Traits::from_fn(|of| {
            let spread = self[of].unwrap_or(DailyDistribution::Fixed(of.in_book(params)));
            of.within_limits(spread.draw(dice))
        })
    }
}
