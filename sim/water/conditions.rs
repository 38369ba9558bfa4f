//! Weather: how it differs between days, and what it is on one day.

use serde::{Deserialize, Serialize};

use crate::engine::Dice;
use crate::params::DailyDistribution;

/// Distribution of the weather over days.
#[derive(Clone, Debug, PartialEq)]
pub struct Weather {
    /// Water temperature [°C].
    pub temperature_c: DailyDistribution,
    /// Wind speed over the water [m/s].
    pub wind_m_s: DailyDistribution,
    /// Direction towards which the wind blows, anticlockwise from the right along the bank [°].
    pub wind_to_deg: DailyDistribution,
    /// Dissolved oxygen [mg/L].
    pub oxygen_mg_l: DailyDistribution,
    /// Share of the sky that is cloud.
    pub cloud_share: DailyDistribution,
}

/// Weather of one day.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Conditions {
    /// Water temperature [°C].
    pub temperature_c: f64,
    /// Wind speed over the water [m/s].
    pub wind_m_s: f64,
    /// Direction towards which the wind blows, anticlockwise from the right along the bank [rad].
    pub wind_to_rad: f64,
    /// Dissolved oxygen [mg/L].
    pub oxygen_mg_l: f64,
    /// Share of the sky that is cloud.
    #[serde(default)]
    pub cloud_share: f64,
}

impl Weather {
    /// Draws the weather of one day, within physical limits.
    pub fn draw(&self, dice: &mut Dice) -> Conditions {
        Conditions {
            temperature_c: self.temperature_c.draw(dice).clamp(0.5, 35.0),
            wind_m_s: self.wind_m_s.draw(dice).clamp(0.0, 25.0),
            wind_to_rad: self.wind_to_deg.draw(dice).to_radians(),
            oxygen_mg_l: self.oxygen_mg_l.draw(dice).clamp(0.0, 20.0),
            cloud_share: self.cloud_share.draw(dice).clamp(0.0, 1.0),
        }
    }
}
