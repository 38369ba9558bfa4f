//! One fish: what it is, where it is and what it is doing.

use super::appetite::Appetite;
use super::decide::Forage;
use super::swim::Leg;
use super::wariness::Experience;
use crate::engine::{Dice, Time};

/// Height in the water over a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Layer {
    /// On the bed.
    Bottom,
    /// Up for falling feed.
    Up,
}

/// What a fish is doing. Lines are counted from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    /// Roaming in its home range.
    Roaming,
    /// On the way to a line it has noticed.
    Approaching(usize),
    /// At a line, in one of its layers.
    Feeding(usize, Layer),
    /// Startled, in refuge.
    Fled,
    /// On the hook.
    Hooked,
    /// Out of the water until the end.
    Kept,
    /// Returned in a pleasure session, recovering.
    Resting,
}

/// One fish.
#[derive(Clone, Debug)]
pub struct Fish {
    /// Its shoal, counted from 0.
    pub shoal: usize,
    /// Weighed mass, whole grams so that sums are exact [g].
    pub mass_g: u32,
    /// Total length [m].
    pub length_m: f64,
    /// Boldness, 1 for an ordinary fish.
    pub boldness: f64,
    /// How readily it comes to feed that it notices, 1 for an ordinary fish.
    pub habit: f64,
    /// Its own stream of chance.
    pub dice: Dice,
    /// What it is doing.
    pub state: State,
    /// Where it is going.
    pub leg: Leg,
    /// Its gut.
    pub appetite: Appetite,
    /// What it remembers of feeding at this line.
    pub forage: Forage,
    /// Captures suffered and seen.
    pub experience: Experience,
    /// Until when it leaves hookbaits alone after refusing one.
    pub refuses_until: Time,
    /// Line that what it remembers is about.
    pub trusts: Option<usize>,
    /// Line it gave up last, and until when it does not think of it.
    pub gave_up: Option<(usize, Time)>,
    /// Until when it handles the mouthful it has.
    pub swallows_until: Time,
    /// Rate at which its next mouthful was drawn [1/s], to thin the draw if food has become scarcer.
    pub searching_per_s: f64,
    /// Whether that mouthful was to be searched on the pile.
    pub on_pile: bool,
    /// Place among the fish at its line.
    pub slot: usize,
    /// Counts its changes of mind; an event of an older count is ignored.
    pub mind: u32,
}

impl Fish {
    /// Mass [kg].
    #[inline]
    #[must_use]
    pub fn mass_kg(&self) -> f64 {
        f64::from(self.mass_g) * 1e-3
    }
    /// Updates the gut and returns the motivation to come to feed: hunger times the day's feeding activity times its
    /// own responsiveness.
    ///
    /// It multiplies a chance, so that only a fish of high responsiveness comes for certain.
    pub fn feeding_motivation(&mut self, now: Time, gut_rate_per_s: f64, activity: f64) -> f64 {
        self.appetite.digest_until(now, gut_rate_per_s);
        self.appetite.hunger() * activity * self.habit
    }

    /// The greatest possible feeding motivation, that of an empty gut.
    #[must_use]
    pub fn max_feeding_motivation(&self, activity: f64) -> f64 {
        activity * self.habit
    }

    /// Voids the fish's pending event and returns the generation of its next one.
    pub fn next_generation(&mut self) -> u32 {
        self.mind += 1;
        self.mind
    }
}
