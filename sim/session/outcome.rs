//! The outcome of one session.

use serde::{Deserialize, Serialize};

use super::activity::{TimeUse, read_times_s, write_times_s};

/// One fish that was landed and counts.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Catch {
    /// When it was netted, from the start [s]; never after the end.
    pub at_s: f64,
    /// Mass at the scales [g].
    pub mass_g: u32,
    /// Its shoal, counted from 0.
    pub shoal: usize,
    /// Whether it was hooked outside the mouth.
    pub foul: bool,
}

/// Catch from one shoal.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct ShoalCatch {
    /// Number of fish.
    pub fish: u32,
    /// Their total weight [g].
    pub weight_g: u64,
}

/// Where the bait went: feeder + loose = on the bed + hanging + on the feeder + eaten + lost [kg].
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct BaitLedger {
    /// Cast on the feeder [kg].
    pub feeder_kg: f64,
    /// Thrown as loose feed [kg].
    pub loose_kg: f64,
    /// Eaten, on the bed or on its way there [kg].
    pub eaten_kg: f64,
    /// Washed off, silted up, thinned out or wound in again [kg].
    pub lost_kg: f64,
    /// Food and inert matter on the bed at the end [kg].
    pub on_bed_kg: f64,
    /// Hanging in the water, or still falling, at the end [kg].
    pub hanging_kg: f64,
    /// Still on the feeder at the end [kg].
    pub on_feeder_kg: f64,
}

/// What happened in the swim, for explaining a result.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct SwimStatistics {
    /// Time with a bait in the water [s].
    pub bait_in_water_s: f64,
    /// Time with a hookbait that fish could take [s].
    pub hookbait_fishing_s: f64,
    /// Number of fish feeding on the bed at the fished line, summed over the time with a bait in the water [fish·s].
    pub fish_on_line_s: f64,
    /// Number of fish feeding up in the water at the fished line, summed over that time [fish·s].
    pub fish_up_s: f64,
    /// Mouthfuls of feed eaten from the patch with the hookbait.
    pub mouthfuls_beside: u32,
    /// How often a fish found the hookbait.
    pub hookbait_met: u32,
    /// How often a fish found the hookbait and refused it.
    pub refused: u32,
    /// How often a fish was startled.
    pub scared: u32,
    /// How often a fish arrived at a line.
    pub arrived: u32,
    /// How often a fish gave up a line.
    pub gave_up: u32,
    /// How often a fish showed at the surface.
    pub shown: u32,
    /// Number of snagged casts.
    pub snags: u32,
    /// Number of events handled.
    pub events: u64,
}

/// The outcome of one session.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Outcome {
    /// Weight at the scales [g]; in a pleasure session, the weight of all fish landed.
    pub weight_g: u64,
    /// Fish that count, in order of time.
    pub catches: Vec<Catch>,
    /// How often a hookbait was taken.
    pub bites: u32,
    /// Number of fish hooked and lost.
    pub lost: u32,
    /// Number of foul-hooked fish, landed or lost.
    pub foul_hooked: u32,
    /// Number of casts.
    pub casts: u32,
    /// Catch by shoal, in the order of the scenario.
    pub by_shoal: Vec<ShoalCatch>,
    /// How the time was spent; it adds up to the session [s].
    #[serde(rename = "time", serialize_with = "write_times_s", deserialize_with = "read_times_s")]
    pub time_s: TimeUse,
    /// Where the bait went.
    pub bait: BaitLedger,
    /// Bait used of each recipe, in the order of the scenario [kg].
    pub bait_by_recipe_kg: Vec<f64>,
    /// What happened in the swim.
    pub swim: SwimStatistics,
    /// How often each rule fired, in the order of the plan.
    pub fired: Vec<u32>,
}

impl Outcome {
    /// Bait used: cast and thrown [kg].
    #[must_use]
    pub fn bait_kg(&self) -> f64 {
        self.bait.feeder_kg + self.bait.loose_kg
    }
}
