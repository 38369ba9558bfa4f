//! What a place costs a fish: cover, shallow bright water, and frights that it remembers.

use sim::engine::Time;
use sim::fish::{
    Alarm, Disturbance, Exposure, FishParams, Fright, glare, goes_in_spite_of, seen_through_ripples,
};
use sim::water::Point;

use crate::evidence::near;

/// V-163: risk rises by one with each book distance from cover beyond what a fish is used to; by the book's weight in
/// very shallow water, a share e⁻¹ of it for each book depth; and in proportion to the light.
#[test]
fn a_place_costs_more_far_from_cover_in_shallow_water_and_in_bright_light() {
    let params = FishParams::central();
    let risk = |cover_m: f64, depth_m: f64, glare: f64| {
        Exposure::new(cover_m, depth_m, &params).risk(3.0, glare, &params)
    };
    let deep_m = 1e3;
    let scale_m = params.cover_scale_m;
    near("V-163 one scale beyond habit", risk(3.0 + scale_m, deep_m, 1.0), 1.0, 1e-12);
    near("V-163 three scales beyond habit", risk(3.0 + 3.0 * scale_m, deep_m, 1.0), 3.0, 1e-12);
    for cover_m in [0.0, 1.0, 3.0] {
        assert!(
            risk(cover_m, deep_m, 1.0).abs() < 1e-12,
            "V-163: {cover_m} m is what it is used to"
        );
    }
    let (weight, depth_m) = (params.exposure_weight, params.exposure_depth_m);
    near("V-163 in no depth", risk(0.0, 0.0, 1.0), weight, 1e-12);
    near("V-163 at the book's depth", risk(0.0, depth_m, 1.0), weight * (-1_f64).exp(), 1e-12);
    // Where no cover is charted, distance from it tells places apart no more.
    near("V-163 no cover", risk(f64::INFINITY, depth_m, 1.0), risk(0.0, depth_m, 1.0), 1e-12);
    let whole = risk(11.0, 0.7, 1.0);
    for share in [0.0, 0.25, 0.5] {
        near("V-163 in less light", risk(11.0, 0.7, share), share * whole, 1e-12);
    }
    near("V-163 share that goes all the same", goes_in_spite_of(whole), (-whole).exp(), 1e-12);
    near("V-163 no risk", goes_in_spite_of(0.0), 1.0, 1e-12);

    // Glare is whole in daylight, next to nothing at dusk, and never falls as it gets brighter.
    near("V-163 glare in daylight", glare(0.95), 1.0, 1e-12);
    assert!(glare(0.0).abs() < 1e-12 && glare(0.44) < 0.05, "V-163: glare in the dark and at dusk");
    let rising: Vec<f64> =
        (0..=100).map(|hundredths| glare(0.01 * f64::from(hundredths))).collect();
    assert!(rising.windows(2).all(|w| w[0] <= w[1]) && rising[100] <= 1.0, "V-163: {rising:?}");
}

/// V-176: a calm surface hides nothing, the book's wind hides half of the book's share, and a storm nearly all of it.
#[test]
fn ripples_hide_fish_from_above() {
    let params = FishParams::central();
    let hides = params.ripple_hides;
    let seen = |wind_m_s: f64| seen_through_ripples(wind_m_s, &params);
    near("V-176 calm", seen(0.0), 1.0, 1e-12);
    near("V-176 the book's wind", seen(params.ripple_wind_m_s), 1.0 - 0.5 * hides, 1e-12);
    near("V-176 a storm", seen(1e9), 1.0 - hides, 1e-8);
    assert!(hides > 0.0 && seen(2.0) > seen(4.0), "V-176: more wind hides more");
}

fn at(x_m: f64) -> Point {
    Point { x_m, y_m: 20.0 }
}

/// V-166: frights add up, fade as e^(−t/T) for any time steps, and raise the risk of the place where the last one
/// happened most, less with distance by e^(−(d/d₀)²).
#[test]
fn frights_add_fade_and_are_tied_to_a_place() {
    let params = FishParams::central();
    let memory_s = params.fright_memory_s;
    let seconds = Time::from_seconds;
    let mut fright = Fright::none();
    assert!(fright.level(seconds(5.0), &params).abs() < 1e-12, "V-166: never frightened");
    assert!(fright.risk_at(at(0.0), seconds(5.0), &params).abs() < 1e-12);

    fright.add(0.8, at(0.0), seconds(100.0), &params);
    near("V-166 fresh", fright.level(seconds(100.0), &params), 0.8, 1e-12);
    let later = seconds(100.0 + memory_s);
    near("V-166 after the book's time", fright.level(later, &params), 0.8 * (-1_f64).exp(), 1e-9);
    // A second one is added to what is left of the first.
    fright.add(0.5, at(4.0), later, &params);
    let level = 0.5 + 0.8 * (-1_f64).exp();
    near("V-166 a second one", fright.level(later, &params), level, 1e-9);

    // In steps without strength the memory fades as it does in one.
    let mut stepped = fright;
    for step in 1..=50 {
        let now = seconds(100.0 + memory_s * (1.0 + f64::from(step) / 50.0));
        stepped.add(0.0, at(4.0), now, &params);
    }
    let now = seconds(100.0 + 2.0 * memory_s);
    near("V-166 in fifty steps", stepped.level(now, &params), fright.level(now, &params), 1e-9);

    let risk = |x_m: f64| fright.risk_at(at(x_m), later, &params);
    near("V-166 risk there", risk(4.0), params.fright_shuns * level, 1e-9);
    let away_m = params.fright_place_m;
    for side in [-1.0, 1.0] {
        near(
            "V-166 at the book's distance",
            risk(4.0 + side * away_m),
            risk(4.0) * (-1_f64).exp(),
            1e-9,
        );
    }
    let falling: Vec<f64> = (0..40).map(|step| risk(4.0 + 0.5 * f64::from(step))).collect();
    assert!(falling.windows(2).all(|w| w[1] <= w[0]), "V-166: {falling:?}");

    // A warier fish takes less and startles more, by the same factor.
    let factor = (params.fright_wariness * level).exp();
    near("V-166 startles more", fright.startles_more(later, &params), factor, 1e-9);
    near("V-166 takes less", fright.boldness_left(later, &params), 1.0 / factor, 1e-9);
}

/// V-175: each lost fish adds the book's alarm to its line for every fish; it fades by e in the book's time.
#[test]
fn the_alarm_of_a_lost_fish_fades() {
    let (params, seconds) = (FishParams::central(), Time::from_seconds);
    let mut alarm = Alarm::none();
    assert!(alarm.risk(seconds(50.0), &params) <= 0.0, "V-175: nothing happened");
    alarm.add_lost_fish(seconds(50.0), &params);
    near("V-175 fresh", alarm.risk(seconds(50.0), &params), params.lost_fish_alarm, 1e-12);
    let later = seconds(50.0 + params.alarm_lasts_s);
    let faded = params.lost_fish_alarm * (-1_f64).exp();
    near("V-175 after the book's time", alarm.risk(later, &params), faded, 1e-9);
    alarm.add_lost_fish(later, &params);
    near("V-175 two", alarm.risk(later, &params), params.lost_fish_alarm + faded, 1e-9);
}

/// V-350: each fight adds the share of it that is felt at its place; it costs fish the more the readier their shoal is to flee
/// from a fight, and fades by e in the book's time.
#[test]
fn the_disturbance_of_a_fight_fades_and_costs_shy_fish_most() {
    let (params, seconds) = (FishParams::central(), Time::from_seconds);
    let mut place = Disturbance::none();
    assert!(place.risk(0.5, seconds(50.0), &params) <= 0.0, "V-350: nothing happened");
    place.add_fight(0.8, seconds(50.0), &params);
    let fresh = place.risk(0.5, seconds(50.0), &params);
    near("V-350 fresh", fresh, params.fight_disturbs * 0.5 * 0.8, 1e-12);
    near("V-350 twice as shy", place.risk(1.0, seconds(50.0), &params), 2.0 * fresh, 1e-12);
    assert!(place.risk(0.0, seconds(50.0), &params) <= 0.0, "V-350: fish that do not mind fights");
    let later = seconds(50.0 + params.disturbance_lasts_s);
    near("V-350 faded", place.risk(0.5, later, &params), fresh * (-1_f64).exp(), 1e-9);
    place.add_fight(0.8, later, &params);
    let two = fresh * (1.0 + (-1_f64).exp());
    near("V-350 two", place.risk(0.5, later, &params), two, 1e-9);
}
