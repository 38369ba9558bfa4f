//! Depth from soundings: exact where measured, bounded, without jumps or rings.

use proptest::prelude::*;
use sim::water::{BankSounding, Bathymetry, PlacedSounding, Point};

use crate::evidence::the_same_cases;

fn point(x_m: f64, y_m: f64) -> Point {
    Point { x_m, y_m }
}

fn by_distance(soundings: &[(f64, f64)]) -> Vec<BankSounding> {
    soundings.iter().map(|&(distance_m, depth_m)| BankSounding { distance_m, depth_m }).collect()
}

fn placed(soundings: &[(f64, f64, f64)]) -> Vec<PlacedSounding> {
    let sounding = |&(x_m, y_m, depth_m): &_| PlacedSounding { at: point(x_m, y_m), depth_m };
    soundings.iter().map(sounding).collect()
}

/// A margin, a shelf and open water.
const PROFILE: [(f64, f64); 4] = [(0.0, 0.3), (3.0, 0.8), (9.0, 1.5), (25.0, 3.0)];

/// Soundings by distance: distances 0.1 m apart or more, so that none is steeper than a wall.
fn profiles() -> impl Strategy<Value = Vec<(f64, f64)>> {
    prop::collection::vec((0.1..15.0_f64, 0.2..6.0_f64), 0..6).prop_map(|steps| {
        let mut distance_m = 0.0;
        let along = |(step_m, depth_m)| {
            distance_m += step_m;
            (distance_m, depth_m)
        };
        steps.into_iter().map(along).collect()
    })
}

/// Soundings with a place, on a grid of 0.5 m, at most one at a place.
fn places() -> impl Strategy<Value = Vec<(f64, f64, f64)>> {
    prop::collection::btree_map((-60..60_i32, 0..80_i32), 0.1..6.0_f64, 1..8).prop_map(|depths| {
        let sounding = |((x, y), depth_m)| (0.5 * f64::from(x), 0.5 * f64::from(y), depth_m);
        depths.into_iter().map(sounding).collect()
    })
}

proptest! {
    #![proptest_config(the_same_cases())]

    /// V-215: exact at each sounding with a place, whatever the others are.
    #[test]
    fn depth_is_exact_where_it_was_measured(
        profile in profiles(),
        places in places(),
        range_m in 2.0..25.0_f64,
    ) {
        let bed = Bathymetry::new(by_distance(&profile), placed(&places), range_m);
        for &(x_m, y_m, depth_m) in &places {
            let found_m = bed.depth_m(point(x_m, y_m));
            prop_assert!((found_m - depth_m).abs() < 1e-9, "V-215: {found_m}, not {depth_m} m");
        }
        // Beyond the range of all of them the profile is exact too.
        for &(distance_m, depth_m) in &profile {
            let found_m = bed.depth_m(point(31.0 + range_m, distance_m));
            prop_assert!((found_m - depth_m).abs() < 1e-9, "V-215: {found_m}, not {depth_m} m");
        }
    }

    /// V-215: between the smallest and the largest depth that was written, everywhere.
    #[test]
    fn depth_lies_between_what_was_written(
        profile in profiles(),
        places in places(),
        range_m in 2.0..25.0_f64,
        x_m in -80.0..80.0_f64,
        y_m in -5.0..90.0_f64,
    ) {
        let bed = Bathymetry::new(by_distance(&profile), placed(&places), range_m);
        let depths = || {
            profile.iter().map(|&(_, depth_m)| depth_m).chain(places.iter().map(|place| place.2))
        };
        let low_m = depths().fold(f64::INFINITY, f64::min);
        let high_m = depths().fold(f64::NEG_INFINITY, f64::max);
        let depth_m = bed.depth_m(point(x_m, y_m));
        prop_assert!((low_m..=high_m).contains(&depth_m), "V-215: {depth_m} of {low_m} to {high_m}");
        let [least_m, most_m] = bed.bounds_m();
        prop_assert!((least_m - low_m).abs() < 1e-12 && (most_m - high_m).abs() < 1e-12);
    }

    /// V-215: no jumps. A step of 10⁻⁷ m changes the depth by less than 10⁻⁴ m, also towards a sounding and across the
    /// edge of its range: the profile is no steeper than 60 m a metre here, and the weights of soundings 0.5 m apart
    /// change the blend by less than 100 m a metre.
    #[test]
    fn depth_has_no_jumps(
        profile in profiles(),
        places in places(),
        range_m in 2.0..25.0_f64,
        angle in 0.0..std::f64::consts::TAU,
        anywhere in (-40.0..40.0_f64, -1.0..50.0_f64),
    ) {
        let bed = Bathymetry::new(by_distance(&profile), placed(&places), range_m);
        let step_m = 1e-7;
        let along = |from: Point, distance_m: f64| {
            point(from.x_m + distance_m * angle.cos(), from.y_m + distance_m * angle.sin())
        };
        let mut starts = vec![point(anywhere.0, anywhere.1)];
        for &(x_m, y_m, _) in &places {
            starts.push(point(x_m, y_m));
            // On either side of the edge of the range, and of the place itself.
            starts.push(along(point(x_m, y_m), range_m - 0.5 * step_m));
            starts.push(along(point(x_m, y_m), -0.5 * step_m));
            starts.push(along(point(x_m, y_m), 1e-6 - 0.5 * step_m));
        }
        for &(distance_m, _) in &profile {
            starts.push(along(point(anywhere.0, distance_m), -0.5 * step_m));
        }
        for start in starts {
            let change_m = bed.depth_m(start) - bed.depth_m(along(start, step_m));
            prop_assert!(change_m.abs() < 1e-4, "V-215: {change_m} m at {start:?}");
        }
    }
}

/// V-215: soundings by distance alone are the same all along the bank, so a margin is shallow everywhere; no depth
/// depends on the distance from the peg.
#[test]
fn depth_makes_no_rings_round_the_peg() {
    let bed = Bathymetry::new(by_distance(&PROFILE), Vec::new(), 8.0);
    for half_metre in 0..100 {
        let y_m = 0.5 * f64::from(half_metre);
        let at_the_peg_m = bed.depth_m(point(0.0, y_m));
        for x_m in [-70.0, -12.5, -0.1, 3.0, 25.0, 400.0] {
            let depth_m = bed.depth_m(point(x_m, y_m));
            assert!((depth_m - at_the_peg_m).abs() < 1e-12, "V-215: {depth_m} at {x_m}, {y_m}");
        }
    }
    for (distance_m, depth_m) in PROFILE {
        let found_m = bed.depth_m(point(30.0, distance_m));
        assert!((found_m - depth_m).abs() < 1e-12, "V-215: {found_m} at {distance_m} m");
    }
    // 25 m along the bank and 2 m out is margin, not open water.
    assert!(bed.depth_m(point(25.0, 2.0)) < 0.7, "V-215: the margin is deep");
    assert!((bed.depth_m(point(0.0, 100.0)) - 3.0).abs() < 1e-12, "V-215: level beyond the last");
}

/// V-215: a lone sounding keeps half of what it is off the profile at half its range, and nothing at the range; one
/// that agrees with the profile changes nothing anywhere.
#[test]
fn a_sounding_fades_with_distance_and_counts_only_by_what_it_adds() {
    let plain = Bathymetry::new(by_distance(&PROFILE), Vec::new(), 8.0);
    let hole = Bathymetry::new(by_distance(&PROFILE), placed(&[(5.0, 9.0, 2.3)]), 8.0);
    for (distance_m, left) in [(0.0, 1.0), (2.0, 0.9), (4.0, 0.5), (6.4, 1.0 / 17.0), (8.0, 0.0)] {
        let place = point(5.0 + distance_m, 9.0);
        let found = (hole.depth_m(place) - plain.depth_m(place)) / 0.8;
        assert!((found - left).abs() < 1e-9, "V-215: {found} left at {distance_m} m, not {left}");
    }
    let agreeing = placed(&[(5.0, 9.0, 1.5), (-3.0, 3.0, 0.8)]);
    let same = Bathymetry::new(by_distance(&PROFILE), agreeing, 8.0);
    for x_m in [-8.0, -3.0, 1.0, 5.0, 9.0] {
        for y_m in [0.0, 2.0, 3.0, 7.0, 9.0, 12.0] {
            let change_m = same.depth_m(point(x_m, y_m)) - plain.depth_m(point(x_m, y_m));
            assert!(change_m.abs() < 1e-12, "V-215: {change_m} m at {x_m}, {y_m}");
        }
    }
}

/// V-215: never below 0.05 m; soundings at one place or distance are averaged; without a profile the bed is level at
/// the mean; none at all is a mistake of the caller.
#[test]
fn odd_soundings_make_a_sound_bed() {
    let bank = Bathymetry::new(by_distance(&[(0.0, 0.0), (10.0, 2.0)]), Vec::new(), 8.0);
    assert!((bank.depth_m(point(3.0, 0.0)) - 0.05).abs() < 1e-12, "V-215: the least depth");
    assert!((bank.depth_m(point(3.0, 5.0)) - 1.0).abs() < 1e-12, "V-215: half way");
    let twice = Bathymetry::new(
        by_distance(&[(5.0, 1.0), (5.0, 2.0)]),
        placed(&[(0.0, 5.0, 2.5), (0.0, 5.0, 3.0)]),
        8.0,
    );
    assert!((twice.depth_m(point(50.0, 5.0)) - 1.5).abs() < 1e-12, "V-215: at one distance");
    assert!((twice.depth_m(point(0.0, 5.0)) - 2.75).abs() < 1e-12, "V-215: at one place");
    let alone = Bathymetry::new(Vec::new(), placed(&[(0.0, 5.0, 1.0), (20.0, 9.0, 3.0)]), 8.0);
    assert!((alone.depth_m(point(-50.0, 50.0)) - 2.0).abs() < 1e-12, "V-215: level elsewhere");
    let none = std::panic::catch_unwind(|| Bathymetry::new(Vec::new(), Vec::new(), 8.0));
    assert!(none.is_err(), "V-215: a bed without soundings");
}
