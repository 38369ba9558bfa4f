//! How a quantity goes over the day: water temperature and wind by the sun, or values stated at clock times.

use std::f64::consts::TAU;

use super::light::cloud_transmission;
use super::params::WaterParams;
use super::sun::SolarDay;
use crate::numerics::{cos, exp};

const DAY_S: f64 = 86_400.0;

/// Energy of the sun outside the air on a midsummer day at 52° north, for which the book states the swing [J/m²].
const MIDSUMMER_J_M2: f64 = 41.6e6;

/// A quantity over the day, by clock time in seconds since local midnight; units are those of the quantity.
///
/// Asking for a value costs a cosine or a short search, and never allocates.
///
/// ```
/// use sim::water::Course;
/// // 14 °C at eight in the morning, 18 °C at four in the afternoon.
/// let stated = Course::stated(vec![(8.0 * 3600.0, 14.0), (16.0 * 3600.0, 18.0)]);
/// assert!((stated.at(12.0 * 3600.0) - 16.0).abs() < 1e-12);
/// assert!((stated.at(20.0 * 3600.0) - 18.0).abs() < 1e-12);
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    form: Form,
}

#[derive(Clone, Debug, PartialEq)]
enum Form {
    /// The same all day.
    Constant(f64),
    /// A cosine with a period of one day.
    Daily { mean: f64, amplitude: f64, peak_s: f64 },
    /// Values at clock times, in order of time.
    Stated(Vec<(f64, f64)>),
    /// Values at equal steps from a start.
    Sampled { start_s: f64, step_s: f64, values: Vec<f64> },
}

impl Course {
    /// The same value all day.
    #[must_use]
    pub fn constant(value: f64) -> Self {
        Self { form: Form::Constant(value) }
    }

    /// A cosine of one day's period about a mean, greatest at `peak_s` [s].
    ///
    /// mean + amplitude · cos(2π (t − peak) / 86 400 s)
    ///
    /// - **Checked by** V-210 (its mean, ends and period).
    #[must_use]
    pub fn daily(mean: f64, amplitude: f64, peak_s: f64) -> Self {
        Self { form: Form::Daily { mean, amplitude, peak_s } }
    }

    /// Straight lines between values at clock times [s]; before the first and after the last the value holds.
    ///
    /// - **Checked by** V-211 (exact at what was stated, between its neighbours elsewhere).
    ///
    /// # Panics
    ///
    /// If there are no points, or if their times do not increase.
    #[must_use]
    pub fn stated(points: Vec<(f64, f64)>) -> Self {
        assert!(!points.is_empty(), "a stated course has at least one point");
        let increase = points.windows(2).all(|pair| pair[0].0 < pair[1].0);
        assert!(increase, "the clock times of a stated course increase");
        Self { form: Form::Stated(points) }
    }

    /// Straight lines between samples of a function, taken every `step_s` from `start_s` until `end_s` is covered [s].
    ///
    /// For what is too slow to work out at every event, such as the light. The lookup takes the same time whatever
    /// the number of samples.
    ///
    /// - **Checked by** V-211 (exact at the samples, close to a smooth function elsewhere).
    ///
    /// # Panics
    ///
    /// If the step is not positive or the end lies before the start.
    #[must_use]
    pub fn sampled(
        start_s: f64,
        end_s: f64,
        step_s: f64,
        mut value_at: impl FnMut(f64) -> f64,
    ) -> Self {
        assert!(step_s > 0.0, "a sampled course has a positive step, not {step_s} s");
        assert!(end_s >= start_s, "a sampled course ends after it starts");
        let steps = ((end_s - start_s) / step_s).ceil() as usize;
        let values = (0..=steps).map(|i| value_at(start_s + step_s * i as f64)).collect();
        Self { form: Form::Sampled { start_s, step_s, values } }
    }

    /// Value at a clock time [s].
    #[inline]
    #[must_use]
    pub fn at(&self, clock_s: f64) -> f64 {
        match &self.form {
            Form::Constant(value) => *value,
            Form::Daily { mean, amplitude, peak_s } => {
                mean + amplitude * cos(TAU * (clock_s - peak_s) / DAY_S)
            }
            Form::Stated(points) => {
                let after = points.partition_point(|&(time_s, _)| time_s <= clock_s);
                if after == 0 {
                    return points[0].1;
                }
                let (from_s, from) = points[after - 1];
                points.get(after).map_or(from, |&(to_s, to)| {
                    from + (clock_s - from_s) / (to_s - from_s) * (to - from)
                })
            }
            Form::Sampled { start_s, step_s, values } => {
                let last = values.len() - 1;
                let steps = ((clock_s - start_s) / step_s).max(0.0);
                // Signed integers convert in one instruction.
                let before = steps as i64 as usize;
                if before >= last {
                    return values[last];
                }
                let share = steps - before as i64 as f64;
                values[before] + share * (values[before + 1] - values[before])
            }
        }
    }

    /// Smallest and largest value over all times.
    ///
    /// - **Checked by** V-210, V-211 (no value lies outside).
    #[must_use]
    pub fn bounds(&self) -> [f64; 2] {
        let ends = |values: &mut dyn Iterator<Item = f64>| {
            values.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], value| {
                [low.min(value), high.max(value)]
            })
        };
        match &self.form {
            Form::Constant(value) => [*value, *value],
            Form::Daily { mean, amplitude, .. } => [mean - amplitude.abs(), mean + amplitude.abs()],
            Form::Stated(points) => ends(&mut points.iter().map(|&(_, value)| value)),
            Form::Sampled { values, .. } => ends(&mut values.iter().copied()),
        }
    }
}

/// Half the daily range of the water temperature at a depth, on a date and under a share of cloud [°C].
///
/// A₀ e^(−z/d) · H/H₀ · cloud: A₀ the swing at the surface on a cloudless midsummer day, d the depth over which it
/// falls to 1/e, H the sun's energy on the date over that of midsummer at 52° north, cloud as for light.
///
/// - **Holds for** small still waters without ice; stirring by wind is not followed, but widens the range of d.
/// - **Source** `woolway-2016` (range at the surface), `jacobs-1998` (it follows the day's sunshine and falls with
///   depth; the exponential is assumed).
/// - **Checked by** V-212 (summer ranges of small lakes, winter against summer, deep against shallow).
#[must_use]
pub fn temperature_swing_c(
    depth_m: f64,
    day: &SolarDay,
    cloud_share: f64,
    params: &WaterParams,
) -> f64 {
    let season = day.insolation_j_m2() / MIDSUMMER_J_M2;
    let with_depth = exp(-depth_m / params.temperature_swing_depth_m);
    params.temperature_swing_c * with_depth * season * cloud_transmission(cloud_share, params)
}

/// Course of the water temperature at a depth, about the day's mean there [°C].
///
/// A cosine, greatest some hours after solar noon and later with depth. The swing is never larger than the mean, so
/// that water stays above freezing.
///
/// - **Holds for** where [`temperature_swing_c`] holds.
/// - **Source** `woolway-2016`, `jacobs-1998`; the times are assumed.
/// - **Checked by** V-213 (warmest in the afternoon, later with depth, never below freezing).
#[must_use]
pub fn temperature_course(
    mean_c: f64,
    depth_m: f64,
    day: &SolarDay,
    cloud_share: f64,
    params: &WaterParams,
) -> Course {
    let swing_c = temperature_swing_c(depth_m, day, cloud_share, params).min(mean_c.max(0.0));
    let lag_s = params.temperature_lag_s + params.temperature_lag_s_per_m * depth_m;
    Course::daily(mean_c, swing_c, day.noon_s() + lag_s)
}

/// Course of the wind about the day's mean [m/s]; with a mean of 1, a factor of the day's wind.
///
/// A cosine: still mornings and evenings, the strongest wind some time after solar noon.
///
/// - **Holds for** days without a front; the size of the swing is assumed.
/// - **Source** `fajber-2014` (strongest in the early afternoon near the ground).
/// - **Checked by** V-214 (strongest in the afternoon, never negative, the mean kept).
#[must_use]
pub fn wind_course(mean_m_s: f64, day: &SolarDay, params: &WaterParams) -> Course {
    Course::daily(mean_m_s, params.wind_swing_share * mean_m_s, day.noon_s() + params.wind_lag_s)
}
