//! The place: depths and features, the water's properties, drift and what a day brings.
//!
//! Plan view in metres: the peg at (0, 0), y away from the bank, x along it to the right. It must not
//! know of bait, fish or angler.

mod chart;
mod column;
mod conditions;
mod drift;
mod params;

pub use chart::{Chart, Feature, Line, Point, Sounding};
pub use column::{Fluid, fluid_at};
pub use conditions::{Conditions, Weather};
pub use drift::{layer_flow, profile, surface_drift_m_s};
pub use params::WaterParams;
