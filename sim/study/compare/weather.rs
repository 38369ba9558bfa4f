//! Extremes of the weather over the days of a comparison.

use crate::water::Conditions;

/// Water warmer than this causes a warning [°C].
pub(super) const WARM_C: f64 = 24.0;
/// Oxygen below this causes a warning [mg/L].
pub(super) const LOW_OXYGEN_MG_L: f64 = 4.0;

/// Extremes of the weather over the days.
#[derive(Clone, Copy, Debug)]
pub(super) struct WeatherExtremes {
    /// Days with water above [`WARM_C`].
    pub(super) warm_days: u32,
    /// Highest water temperature [°C].
    pub(super) warmest_c: f64,
    /// Days with oxygen below [`LOW_OXYGEN_MG_L`].
    pub(super) low_oxygen_days: u32,
    /// Lowest oxygen content [mg/L].
    pub(super) lowest_oxygen_mg_l: f64,
}

impl Default for WeatherExtremes {
    fn default() -> Self {
        Self { warm_days: 0, warmest_c: 0.0, low_oxygen_days: 0, lowest_oxygen_mg_l: f64::INFINITY }
    }
}

impl WeatherExtremes {
    /// Adds one day.
    pub(super) fn add(&mut self, conditions: &Conditions) {
        self.warm_days += u32::from(conditions.temperature_c > WARM_C);
        self.warmest_c = self.warmest_c.max(conditions.temperature_c);
        self.low_oxygen_days += u32::from(conditions.oxygen_mg_l < LOW_OXYGEN_MG_L);
        self.lowest_oxygen_mg_l = self.lowest_oxygen_mg_l.min(conditions.oxygen_mg_l);
    }
}
