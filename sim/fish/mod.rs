//! Fish: their state, what they sense, and how they respond. It must not know of bait or angler.
//!
//! Functions here take and return plain numbers; the session supplies them, in `session/handlers/`.

mod appetite;
mod foraging;
mod home;
mod id;
mod leg;
mod mouth;
mod params;
mod risk;
mod shoal;
mod species;
mod state;
mod stimulus;
mod traits;
mod wariness;

pub use appetite::Appetite;
pub use foraging::FeedingMemory;
pub use home::HomeCourse;
pub use id::FishId;
pub use leg::Way;
pub use params::FishParams;
pub use risk::Fright;
pub use shoal::{HomeMove, Shoal, StockDensity};
pub use species::{Gape, LengthWeight, Species};
pub use state::{Fish, FishState, Layer};
pub use traits::{Trait, TraitPriors, Traits};
pub use wariness::Experience;

// What only the session and tests use.
#[doc(hidden)]
pub use appetite::{
    gut_rate_per_h, oxygen_factor, temperature_factor, temperature_factor_shifted, vigour,
};
#[doc(hidden)]
pub use foraging::{
    giving_up_time_s, handling_time_s, hookbait_found_per_s, hookbait_met_by_place,
    pile_found_per_s, richness, search_rate_per_s, stands_out,
};
#[doc(hidden)]
pub use leg::Leg;
#[doc(hidden)]
pub use mouth::{bite_kg, full_mouth_kg, gape_m, glance_area_m2, size_fit, suck_area_m2};
#[doc(hidden)]
pub use risk::{Alarm, Disturbance, Exposure, glare, goes_in_spite_of, seen_through_ripples};
#[doc(hidden)]
pub use stimulus::{Sound, company_chance, smell_chance};
#[doc(hidden)]
pub use wariness::{boldness_towards_tackle, take_chance};
