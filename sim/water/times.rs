//! The clock of a session: light, water temperature and wind from its start to its end.

use super::conditions::Conditions;
use super::course::{Course, temperature_course, wind_course};
use super::light::{Clarity, attenuation_per_m, brightness, illuminance_lx, light_at_depth_lx};
use super::params::WaterParams;
use super::sun::SolarDay;

/// Step at which light and temperature are worked out over a session [s].
const STEP_S: f64 = 300.0;
/// Brightness in full daylight, for a session without a date.
const DAYLIGHT: f64 = 0.95;
/// Depth at which the temperature of the water is stated [m].
const STATED_DEPTH_M: f64 = 1.0;
/// Metres of Beer-Lambert attenuation at 1/m by which brightness falls by 1: eight decades of light.
const DECADES_PER_BRIGHTNESS: f64 = 8.0;

/// When a session takes place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clock {
    /// Place and date.
    pub day: SolarDay,
    /// Clock time of the start [s since midnight].
    pub start_s: f64,
}

/// Light, temperature and wind over one session, by time since its start [s].
#[derive(Clone, Debug, PartialEq)]
pub struct DayCourses {
    /// Brightness just under the surface, 0 to 1.
    pub brightness: Course,
    /// Water temperature [°C].
    pub temperature_c: Course,
    /// Wind speed over open ground [m/s].
    pub wind_m_s: Course,
    /// Fall of brightness with each metre of depth [1/m].
    pub dimming_per_m: f64,
}

impl DayCourses {
    /// The courses of a day of given weather; without a clock, daylight and the stated temperature all the time.
    #[must_use]
    pub fn new(
        clock: Option<&Clock>,
        session_s: f64,
        conditions: &Conditions,
        clarity: Clarity,
        params: &WaterParams,
    ) -> Self {
        let attenuation = attenuation_per_m(clarity.secchi_m(params), params);
        let dimming_per_m = attenuation / (DECADES_PER_BRIGHTNESS * std::f64::consts::LN_10);
        let Some(clock) = clock else {
            return Self {
                brightness: Course::constant(DAYLIGHT),
                temperature_c: Course::constant(conditions.temperature_c),
                wind_m_s: Course::constant(conditions.wind_m_s),
                dimming_per_m,
            };
        };
        let cloud = conditions.cloud_share;
        let light = |since_s: f64| {
            let elevation_deg = clock.day.elevation_deg(clock.start_s + since_s);
            let above_lx = illuminance_lx(elevation_deg, cloud, params);
            brightness(light_at_depth_lx(above_lx, 0.0, clarity.secchi_m(params), params))
        };
        let mean_c = conditions.temperature_c;
        let warmth = temperature_course(mean_c, STATED_DEPTH_M, &clock.day, cloud, params);
        let wind = wind_course(conditions.wind_m_s, &clock.day, params);
        let sampled = |value_at: &dyn Fn(f64) -> f64| {
            Course::sampled(0.0, session_s.max(STEP_S), STEP_S, value_at)
        };
        Self {
            brightness: sampled(&light),
            temperature_c: sampled(&|since_s| warmth.at(clock.start_s + since_s)),
            wind_m_s: sampled(&|since_s| wind.at(clock.start_s + since_s)),
            dimming_per_m,
        }
    }

    /// Brightness at a depth and time since the start, 0 to 1.
    #[inline]
    #[must_use]
    pub fn brightness_at(&self, depth_m: f64, since_s: f64) -> f64 {
        (self.brightness.at(since_s) - self.dimming_per_m * depth_m).max(0.0)
    }
}
