//! The water: depths and features, physical properties, drift and weather. It must not know of bait, fish or angler.
//!
//! Coordinates are in metres, seen from above: the peg is at (0, 0), x runs along the bank to the right, y away from
//! the bank.

mod chart;
mod column;
mod conditions;
mod drift;
mod params;

pub use chart::{Chart, Feature, Line, LineId, Point, Sounding};
pub use column::{Fluid, fluid_at};
pub use conditions::{Conditions, Weather};
pub use drift::{mean_layer_flow, return_flow_profile, surface_drift_m_s};
pub use params::WaterParams;
