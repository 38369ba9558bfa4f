//! The course of temperature and wind over the day.

use proptest::prelude::*;
use sim::water::{
    Course, Date, Location, SolarDay, WaterParams, brightness, illuminance_lx, temperature_course,
    temperature_swing_c, wind_course,
};

use crate::evidence::{integral, near, the_same_cases};
use crate::measured::measured;

const DAY_S: f64 = 86_400.0;

/// A date at 52° north, 1° west, on British summer time.
fn english(month: u32, day: u32) -> SolarDay {
    SolarDay {
        location: Location { latitude_deg: 52.0, longitude_deg: -1.0 },
        date: Date::new(2026, month, day).expect("a day of 2026"),
        utc_offset_s: 3600.0,
    }
}

/// The book with one row at another value.
fn with(key: &str, value: f64) -> WaterParams {
    let mut book = WaterParams::book();
    book.set(key, value).unwrap_or_else(|why| panic!("{key}: {why}"));
    WaterParams::from_values(&book.central())
}

/// V-210: over a day the mean is the mean, the largest value comes at its time and the smallest half a day from it, and
/// the next day is the same.
#[test]
fn a_daily_course_keeps_its_mean_ends_and_period() {
    for (mean, amplitude, peak_s) in [(18.0, 2.0, 55_000.0), (0.0, 1.0, -4_000.0), (5.0, 0.0, 0.0)]
    {
        let course = Course::daily(mean, amplitude, peak_s);
        let average = integral(0.0, DAY_S, 96, |t| course.at(t)) / DAY_S;
        assert!((average - mean).abs() < 1e-12, "V-210: mean {average}, not {mean}");
        assert!((course.at(peak_s) - mean - amplitude).abs() < 1e-12, "V-210: its peak");
        assert!((course.at(peak_s + 43_200.0) - mean + amplitude).abs() < 1e-12, "V-210: its low");
        for t in [0.0, 12_345.0, 70_000.0] {
            assert!((course.at(t) - course.at(t + DAY_S)).abs() < 1e-9, "V-210: the next day");
        }
        let [low, high] = course.bounds();
        assert!((low - mean + amplitude).abs() < 1e-12 && (high - mean - amplitude).abs() < 1e-12);
    }
    let steady = Course::constant(7.5);
    assert!((steady.at(-1e6) - 7.5).abs() < 1e-12 && (steady.at(1e6) - 7.5).abs() < 1e-12);
}

proptest! {
    #![proptest_config(the_same_cases())]

    /// V-211: exact at every time that was stated, on the straight line between two of them, level outside.
    #[test]
    fn a_stated_course_goes_straight_from_value_to_value(
        start_s in -20_000.0..80_000.0_f64,
        steps in prop::collection::vec((1.0..20_000.0_f64, -30.0..30.0_f64), 1..8),
        share in 0.0..1.0_f64,
    ) {
        let mut points = Vec::new();
        let mut time_s = start_s;
        for (step_s, value) in steps {
            points.push((time_s, value));
            time_s += step_s;
        }
        let course = Course::stated(points.clone());
        for &(time_s, value) in &points {
            prop_assert!((course.at(time_s) - value).abs() < 1e-9, "V-211: at {time_s}");
        }
        for pair in points.windows(2) {
            let [(from_s, from), (to_s, to)] = [pair[0], pair[1]];
            let found = course.at(from_s + share * (to_s - from_s));
            prop_assert!((found - from - share * (to - from)).abs() < 1e-6, "V-211: {found}");
        }
        let (first, last) = (points[0], points[points.len() - 1]);
        prop_assert!((course.at(first.0 - 5_000.0) - first.1).abs() < 1e-12);
        prop_assert!((course.at(last.0 + 5_000.0) - last.1).abs() < 1e-12);
        let [low, high] = course.bounds();
        for hour in -10..40 {
            let value = course.at(3600.0 * f64::from(hour));
            prop_assert!((low - 1e-9..=high + 1e-9).contains(&value), "V-211: {value}");
        }
    }
}

/// V-211: a sampled course is exact at its samples and within step²/8 times the largest curvature elsewhere; the
/// brightness of a day, sampled every five minutes, is within 0.002 of what it stands for.
#[test]
fn a_sampled_course_is_close_to_its_function() {
    let (step_s, rate) = (600.0, 2.0 * std::f64::consts::PI / DAY_S);
    let wave = |t: f64| (rate * t).sin();
    let course = Course::sampled(0.0, DAY_S, step_s, wave);
    let bound = step_s * step_s / 8.0 * rate * rate;
    for tenth in 0..1440 {
        let t = 60.0 * f64::from(tenth);
        let off = (course.at(t) - wave(t)).abs();
        let allowed = if tenth % 10 == 0 { 1e-12 } else { bound };
        assert!(off <= allowed, "V-211: {off} off at {t} s, allowed {allowed}");
    }
    assert!((course.at(-1.0) - wave(0.0)).abs() < 1e-12, "V-211: before the first sample");
    assert!((course.at(2.0 * DAY_S) - wave(DAY_S)).abs() < 1e-9, "V-211: after the last sample");
    // An end between two samples is covered.
    let short = Course::sampled(0.0, 650.0, step_s, wave);
    assert!((short.at(650.0) - wave(650.0)).abs() <= bound, "V-211: the end is covered");

    let params = WaterParams::central();
    let mut largest = 0.0_f64;
    for day in [english(1, 10), english(3, 21), english(6, 21)] {
        let light = |clock_s| brightness(illuminance_lx(day.elevation_deg(clock_s), 0.3, &params));
        let course = Course::sampled(0.0, DAY_S, 300.0, light);
        for minute in 0..1440 {
            let clock_s = 60.0 * f64::from(minute);
            largest = largest.max((course.at(clock_s) - light(clock_s)).abs());
        }
    }
    assert!(largest < 0.002, "V-211: brightness off by {largest}");
    measured!("V-211", "brightness sampled every five minutes within {largest:.4}");
}

/// V-211: nothing to state, or times out of order, is a mistake of the caller.
#[test]
fn a_course_without_order_is_refused() {
    for points in [vec![], vec![(10.0, 1.0), (10.0, 2.0)], vec![(10.0, 1.0), (5.0, 2.0)]] {
        let refused = std::panic::catch_unwind(|| Course::stated(points.clone()));
        assert!(refused.is_err(), "V-211: {points:?} was taken");
    }
}

/// V-212: mean summer ranges of the surface of small lakes, 4 to 7 °C (Woolway et al. 2016, abstract), over June to
/// August at 52° north under half a sky of cloud; the book's swing is that of a cloudless midsummer day there.
#[test]
fn the_surface_swings_as_small_lakes_do_in_summer() {
    let params = WaterParams::central();
    let days =
        [6, 7, 8].into_iter().flat_map(|month| [1, 8, 15, 22].map(|day| english(month, day)));
    let ranges: Vec<f64> =
        days.map(|day| 2.0 * temperature_swing_c(0.0, &day, 0.5, &params)).collect();
    let mean_c = ranges.iter().sum::<f64>() / ranges.len() as f64;
    measured!("V-212", "{mean_c:.1} °C in June to August");
    assert!((4.0..7.0).contains(&mean_c), "V-212: {mean_c} °C");
    let midsummer_c = temperature_swing_c(0.0, &english(6, 21), 0.0, &params);
    near("V-212 at midsummer", midsummer_c, params.temperature_swing_c, 0.01);
}

/// V-212: less with depth by the same factor each metre, less under cloud, and in December about a seventh of June's, as
/// the sun's energy is (6.3 of 41.6 MJ/m² at 52° north).
#[test]
fn the_swing_falls_with_depth_cloud_and_winter() {
    let params = WaterParams::central();
    let june = |depth_m, cloud| temperature_swing_c(depth_m, &english(6, 21), cloud, &params);
    for depth_m in [0.0, 0.5, 1.5] {
        let factor = (-1.0 / params.temperature_swing_depth_m).exp();
        near("V-212, a metre deeper", june(depth_m + 1.0, 0.2), factor * june(depth_m, 0.2), 1e-12);
    }
    near("V-212 under a covered sky", june(1.0, 1.0), 0.25 * june(1.0, 0.0), 1e-12);
    let december_c = temperature_swing_c(0.0, &english(12, 21), 0.0, &params);
    let share = december_c / june(0.0, 0.0);
    measured!("V-212", "December has {share:.2} of June's swing");
    assert!((share - 6.3 / 41.6).abs() < 0.005, "V-212: {share}");
}

/// V-213: the surface is warmest between 14 and 18 o'clock by the sun all over the row's range, later with depth; a day
/// of water near freezing stays above it; the mean is kept.
#[test]
fn water_is_warmest_in_the_afternoon_and_never_below_freezing() {
    let warmest_s = |course: &Course| {
        (0..1440)
            .map(|minute| 60.0 * f64::from(minute))
            .max_by(|a, b| course.at(*a).total_cmp(&course.at(*b)))
            .expect("a day has minutes")
    };
    let (mut soonest_h, mut latest_h) = (f64::INFINITY, 0.0_f64);
    for lag_s in [7_200.0, 11_000.0, 16_200.0] {
        let params = with("temperature_lag_s", lag_s);
        for day in [english(2, 1), english(7, 10)] {
            let after_noon_h = |depth_m| {
                let course = temperature_course(12.0, depth_m, &day, 0.4, &params);
                (warmest_s(&course) - day.noon_s()) / 3600.0
            };
            let surface_h = after_noon_h(0.0);
            assert!((1.9..6.0).contains(&surface_h), "V-213: {surface_h} h after noon");
            (soonest_h, latest_h) = (surface_h.min(soonest_h), surface_h.max(latest_h));
            // To the minutes looked at.
            let later_h = after_noon_h(1.5) - surface_h;
            assert!((later_h - 1.5).abs() < 0.04, "V-213: {later_h} h later at 1.5 m");
        }
    }
    let params = WaterParams::central();
    measured!("V-213", "{soonest_h:.1} to {latest_h:.1} h after solar noon over the row's range");
    for mean_c in [0.0, 0.3, 4.0, 22.0] {
        let course = temperature_course(mean_c, 0.2, &english(6, 21), 0.0, &params);
        let [low_c, high_c] = course.bounds();
        assert!(low_c >= 0.0, "V-213: {low_c} °C");
        assert!((0.5 * (low_c + high_c) - mean_c).abs() < 1e-12, "V-213: mean {mean_c} °C");
    }
}

/// V-214: the wind is strongest in the early afternoon by the sun (Fajber et al. 2014), never negative, and has the
/// day's mean; with a mean of 1 it is a factor.
#[test]
fn wind_is_strongest_in_the_afternoon_and_keeps_its_mean() {
    for (key, value) in
        [("wind_swing_share", 0.1), ("wind_swing_share", 0.35), ("wind_swing_share", 0.7)]
    {
        let (params, day) = (with(key, value), english(5, 3));
        let wind = wind_course(4.0, &day, &params);
        let [low_m_s, high_m_s] = wind.bounds();
        assert!(low_m_s > 0.0, "V-214: {low_m_s} m/s");
        near("V-214, strongest", high_m_s, 4.0 * (1.0 + value), 1e-12);
        near(
            "V-214, an hour and a half after noon",
            wind.at(day.noon_s() + 5_400.0),
            high_m_s,
            1e-12,
        );
        near("V-214, mean", integral(0.0, DAY_S, 96, |t| wind.at(t)) / DAY_S, 4.0, 1e-12);
        let factor = wind_course(1.0, &day, &params);
        for hour in 0..24 {
            let clock_s = 3600.0 * f64::from(hour);
            near("V-214, a factor", 4.0 * factor.at(clock_s), wind.at(clock_s), 1e-12);
        }
    }
}
