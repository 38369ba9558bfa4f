//! One fish: its properties, position, memory and activity.

use super::appetite::Appetite;
use super::foraging::FeedingMemory;
use super::leg::Way;
use super::risk::Fright;
use super::wariness::Experience;
use crate::engine::{Dice, Time};
use crate::water::LineId;

/// Where in the water a feeding fish is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Layer {
    /// On the bed.
    Bottom,
    /// Up in the water, for falling feed.
    Up,
}

/// What a fish is doing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FishState {
    /// Roaming in its home range.
    Roaming,
    /// On the way to a line that it has noticed.
    Approaching(LineId),
    /// At a line, in one layer.
    Feeding(LineId, Layer),
    /// Startled, in a refuge.
    Fled,
    /// On the hook.
    Hooked,
    /// In the keepnet until the end.
    Kept,
    /// Returned to the water, recovering.
    Resting,
    /// Elsewhere in the lake, out of reach.
    Away,
}

impl FishState {
    /// Whether a sound can draw or startle the fish: not one that fled, rests, was caught or is out of reach.
    #[inline]
    #[must_use]
    pub fn heeds_sounds(self) -> bool {
        matches!(self, Self::Roaming | Self::Approaching(_) | Self::Feeding(..))
    }
}

/// One fish.
#[derive(Clone, Debug)]
pub struct Fish {
    /// Its shoal, counted from 0.
    pub shoal: usize,
    /// Mass at the scales, in whole grams so that sums are exact [g].
    pub mass_g: u32,
    /// Cube root of its mass in kilograms, as chewing goes by it.
    pub cube_root_kg: f64,
    /// Total length [m].
    pub length_m: f64,
    /// Boldness towards hookbaits; 1 for an ordinary fish.
    pub boldness: f64,
    /// Responsiveness to feed that it notices; 1 for an ordinary fish.
    pub responsiveness: f64,
    /// Its own random stream.
    pub dice: Dice,
    /// What the fish is doing.
    pub state: FishState,
    /// When it first comes into reach; the start if it is there from the start.
    pub comes: Time,
    /// The legs that it swims.
    pub way: Way,
    /// Random number of its next look: it notices what has a greater chance. `None` if it swims out of reach instead.
    pub look: Option<f64>,
    /// How much longer it roams before it swims on along the lake, out of reach [s].
    pub stays_s: f64,
    /// How full its gut is, and how keen it is to feed.
    pub appetite: Appetite,
    /// What it remembers of feeding at the line where it last fed.
    pub forage: FeedingMemory,
    /// Captures that it suffered and saw.
    pub experience: Experience,
    /// Frights that it remembers.
    pub fright: Fright,
    /// Diameter of its open mouth [m].
    pub gape_m: f64,
    /// How far from cover it is used to be [m].
    pub habitual_cover_m: f64,
    /// Until when it avoids hookbaits after it refused one.
    pub avoids_hookbaits_until: Time,
    /// The line where it last fed; `None` if it has not fed.
    pub fed_at: Option<LineId>,
    /// The line that it last gave up, and until when it avoids that line.
    pub avoided_line: Option<(LineId, Time)>,
    /// Until when it handles its current mouthful.
    pub handles_until: Time,
    /// Search rate with which its next find was drawn, to thin the draw if food has become scarcer [1/s].
    pub search_rate_per_s: f64,
    /// Whether it has found the pile and feeds on it.
    pub on_pile: bool,
    /// Its slot in the list of fish at its line.
    pub slot: usize,
    /// Generation of its pending event; events of earlier generations are ignored.
    pub generation: u32,
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
        self.motivation(self.appetite.hunger(), activity)
    }

    /// Motivation to come to feed at a hunger and a feeding activity.
    #[inline]
    #[must_use]
    pub fn motivation(&self, hunger: f64, activity: f64) -> f64 {
        hunger * activity * self.responsiveness
    }

    /// The greatest possible feeding motivation, that of an empty gut.
    #[must_use]
    pub fn max_feeding_motivation(&self, activity: f64) -> f64 {
        activity * self.responsiveness
    }

    /// Voids the fish's pending event and returns the generation of its next one.
    pub fn next_generation(&mut self) -> u32 {
        self.generation += 1;
        self.generation
    }
}
