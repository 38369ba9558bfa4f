//! What one session came to.

use serde::{Deserialize, Serialize};

/// One fish landed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Catch {
    /// When it was netted, from the start [s]; never after the end.
    pub at_s: f64,
    /// Weighed mass [g].
    pub mass_g: u32,
    /// Its shoal, counted from 0.
    pub shoal: usize,
    /// Whether it was hooked outside the mouth.
    pub foul: bool,
}

/// Catch from one shoal.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct ShoalCatch {
    /// Fish landed.
    pub fish: u32,
    /// Their weight [g].
    pub weight_g: u64,
}

/// Where the angler's time went; adds up to the session [s].
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct TimeUse {
    /// Winding in, casting, sinking [s].
    pub casting_s: f64,
    /// Bait in the water, hands free [s].
    pub waiting_s: f64,
    /// Playing fish [s].
    pub playing_s: f64,
    /// Unhooking, loading, baiting [s].
    pub rebaiting_s: f64,
    /// Loose feeding [s].
    pub feeding_s: f64,
    /// Snags, changing line, nothing to do [s].
    pub other_s: f64,
}

impl TimeUse {
    /// All of it [s].
    #[must_use]
    pub fn total_s(&self) -> f64 {
        self.casting_s
            + self.waiting_s
            + self.playing_s
            + self.rebaiting_s
            + self.feeding_s
            + self.other_s
    }
}

/// Where the bait went; thrown = on the bed + hanging + falling + eaten + lost [kg].
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct BaitLedger {
    /// Cast on feeders [kg].
    pub feeder_kg: f64,
    /// Loose fed [kg].
    pub loose_kg: f64,
    /// Eaten on the bed or on its way there [kg].
    pub eaten_kg: f64,
    /// Washed off, silted, thinned out or wound in again [kg].
    pub lost_kg: f64,
    /// Food and inert matter on the bed at the end [kg].
    pub on_bed_kg: f64,
    /// Hanging in the water, or still falling, at the end [kg].
    pub hanging_kg: f64,
    /// Still on the feeder at the end [kg].
    pub on_feeder_kg: f64,
}

/// What went on in the swim, for reasons.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct SwimSeen {
    /// Time that a bait lay in the water [s].
    pub bait_in_water_s: f64,
    /// Time that a hookbait was there to be taken [s].
    pub hookbait_fishing_s: f64,
    /// Fish feeding on the fished line, added up over the time a bait lay in the water [fish·s].
    pub fish_on_line_s: f64,
    /// Those up in the water over it [fish·s].
    pub fish_up_s: f64,
    /// Mouthfuls of feed eaten from the patch in which the hookbait lay.
    pub mouthfuls_beside: u32,
    /// Times a fish met the hookbait.
    pub hookbait_met: u32,
    /// Times a fish met it and refused.
    pub refused: u32,
    /// Times a fish was put to flight.
    pub scared: u32,
    /// Times a fish arrived at any line.
    pub arrived: u32,
    /// Times a fish gave up a line.
    pub gave_up: u32,
    /// Times a fish showed at the surface.
    pub shown: u32,
    /// Snagged casts.
    pub snags: u32,
    /// Events that happened.
    pub events: u64,
}

/// What one session came to.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Outcome {
    /// Weight at the scales [g]; in a pleasure session the sum of all landed.
    pub weight_g: u64,
    /// Fish landed, in order of time.
    pub catches: Vec<Catch>,
    /// Times a hookbait was taken.
    pub bites: u32,
    /// Fish hooked and lost.
    pub lost: u32,
    /// Fish hooked outside the mouth, landed or lost.
    pub foul_hooked: u32,
    /// Casts.
    pub casts: u32,
    /// Catch by shoal, in the order of the scenario.
    pub by_shoal: Vec<ShoalCatch>,
    /// Where the time went.
    pub time: TimeUse,
    /// Where the bait went.
    pub bait: BaitLedger,
    /// Bait cast and thrown of each recipe, in the order of the scenario [kg].
    pub bait_by_recipe_kg: Vec<f64>,
    /// What went on in the swim.
    pub swim: SwimSeen,
    /// Times that each rule of the plan fired, in the order of the plan.
    pub fired: Vec<u32>,
}

impl Outcome {
    /// Bait used: what was cast and thrown [kg].
    #[must_use]
    pub fn bait_kg(&self) -> f64 {
        self.bait.feeder_kg + self.bait.loose_kg
    }
}
