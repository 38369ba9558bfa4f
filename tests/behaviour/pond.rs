//! A small invented pond, built in code, for tests with many sessions.

use std::convert::Infallible;

use sim::angler::Plan;
use sim::params::DailyDistribution;
use sim::scenario::Scenario;
use sim::study::{Compare, Comparison, DayOutcomes};
use sim::water::{Conditions, Point};

use crate::small_water::{plan_of_one_phase, small_water};

/// Weather of an ordinary day.
pub(crate) const FAIR: Conditions = Conditions {
    temperature_c: 18.0,
    wind_m_s: 2.0,
    wind_to_rad: 0.0,
    oxygen_mg_l: 8.0,
    cloud_share: 0.5,
};

/// Length of the pond's session [s].
pub(crate) const SESSION_S: f64 = 1800.0;

/// A plan that casts 20 g to the only line and winds in after `recast_s`.
pub(crate) fn plan(name: &str, recast_s: f64) -> Plan {
    plan_of_one_phase(name, SESSION_S, recast_s, 0.02)
}

/// Half an hour on a shallow pond with some 240 small fish in reach, and two plans.
pub(crate) fn pond() -> Scenario {
    let mut pond = small_water(Point { x_m: 0.0, y_m: 15.0 }, 1.2, 0.09, 0.2);
    pond.name = "pond".to_owned();
    pond.title = "A pond".to_owned();
    pond.session_s = SESSION_S;
    pond.chart.length_m = 25.0;
    pond.weather.temperature_c = DailyDistribution::Uniform { low: 16.0, high: 21.0 };
    pond.weather.wind_m_s = DailyDistribution::Uniform { low: 0.5, high: 4.0 };
    let shoal = &mut pond.shoals[0];
    shoal.count = DailyDistribution::Uniform { low: 180.0, high: 300.0 };
    shoal.mass_cv = 0.3;
    shoal.home_shift_m = 1.0;
    pond.plans = vec![plan("often", 90.0), plan("seldom", 420.0)];
    pond
}

/// Ignores a finished day.
pub(crate) fn ignored(_: &DayOutcomes) -> Result<(), Infallible> {
    Ok(())
}

/// A comparison of all plans on days 1 to `days` of a seed.
pub(crate) fn compared(scenario: &Scenario, seed: u64, days: u32) -> Comparison {
    Compare::new(scenario).seed(seed).days(days).run()
}
