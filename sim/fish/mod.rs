//! Fish: their state, what they sense, and how they respond. It must not know of bait or angler.
//!
//! Functions here take and return plain numbers; the session supplies them.

mod appetite;
mod foraging;
mod id;
mod leg;
mod params;
mod shoal;
mod species;
mod state;
mod stimulus;
mod traits;
mod wariness;

pub use appetite::{Appetite, gut_rate_per_h, oxygen_factor, temperature_factor};
pub use foraging::{FeedingMemory, giving_up_time_s, handling_time_s, search_rate_per_s};
pub use id::FishId;
pub use leg::Leg;
pub use params::FishParams;
pub use shoal::Shoal;
pub use species::LengthWeight;
pub use state::{Fish, FishState, Layer};
pub use stimulus::{Sound, company_chance, smell_chance};
pub use traits::{Trait, TraitPriors, Traits};
pub use wariness::{Experience, take_chance};
