//! Fish: their state, what they sense, and how they respond. It must not know of bait or angler.
//!
//! Functions here take and return plain numbers; the session supplies them.

mod appetite;
mod foraging;
mod leg;
mod params;
mod shoal;
mod species;
mod state;
mod stimulus;
mod wariness;

pub use appetite::{Appetite, gut_rate_per_h, oxygen_factor, temperature_factor};
pub use foraging::{Forage, giving_up_after_s, handling_s, search_rate_per_s};
pub use leg::Leg;
pub use params::FishParams;
pub use shoal::{Shoal, TraitSpreads, Traits};
pub use species::LengthWeight;
pub use state::{Fish, Layer, State};
pub use stimulus::{Sound, company, smelt};
pub use wariness::{Experience, take_chance};
