//! The water: depths and features, physical properties, drift and weather. It must not know of bait, fish or angler.
//!
//! Coordinates are in metres, seen from above: the peg is at (0, 0), x runs along the bank to the right, y away from
//! the bank.

mod chart;
mod column;
mod conditions;
mod course;
mod cover;
mod drift;
mod feature;
mod light;
mod params;
mod point;
mod soundings;
mod sun;
mod times;

pub use chart::{Chart, Line, LineId};
pub use column::Fluid;
pub use conditions::{Conditions, Weather};
pub use course::Course;
pub use feature::Feature;
pub use light::Clarity;
pub use params::WaterParams;
pub use point::Point;
pub use soundings::{BankSounding, Bathymetry, PlacedSounding};
pub use sun::{Date, Location, SolarDay};
pub use times::{Clock, DayCourses};

// What only the session and tests use.
#[doc(hidden)]
pub use column::fluid_at;
#[doc(hidden)]
pub use course::{temperature_course, temperature_swing_c, wind_course};
#[doc(hidden)]
pub use cover::{distance_to_cover_m, distance_to_ellipse_m};
#[doc(hidden)]
pub use drift::{layer_flow_m_s, mean_layer_flow, return_flow_profile, surface_drift_m_s};
#[doc(hidden)]
pub use light::{
    attenuation_per_m, brightness, cloud_transmission, illuminance_lx, light_at_depth_lx,
    sunlight_lx,
};
#[doc(hidden)]
pub use sun::{
    CIVIL_TWILIGHT_DEG, NAUTICAL_TWILIGHT_DEG, SUNRISE_ELEVATION_DEG, SunCoordinates, SunPosition,
};
