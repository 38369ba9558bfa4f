//! Distance to cover against a search along the edge.

use std::f64::consts::TAU;

use proptest::prelude::*;
use sim::water::{Feature, Point, distance_to_cover_m, distance_to_ellipse_m};

use crate::evidence::the_same_cases;

/// Distance to an ellipse about the origin by search: the nearest of 720 points of its edge, then the best angle
/// between that point's neighbours by cutting thirds [m].
fn searched_m(place: Point, half_length_m: f64, half_width_m: f64) -> f64 {
    let (u, v) = (place.x_m / half_length_m, place.y_m / half_width_m);
    if u * u + v * v <= 1.0 {
        return 0.0;
    }
    let distance_m = |angle: f64| {
        let x_m = half_length_m * angle.cos();
        place.distance_m(Point { x_m, y_m: half_width_m * angle.sin() })
    };
    let step = TAU / 720.0;
    let nearest = (0..720)
        .map(|i| step * f64::from(i))
        .min_by(|a, b| distance_m(*a).total_cmp(&distance_m(*b)))
        .expect("an edge has points");
    let (mut low, mut high) = (nearest - step, nearest + step);
    for _ in 0..200 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if distance_m(a) < distance_m(b) {
            high = b;
        } else {
            low = a;
        }
    }
    distance_m(0.5 * (low + high))
}

proptest! {
    #![proptest_config(the_same_cases())]

    /// V-216: the same to 1 mm as the search, for long and wide, thin and round, near and far.
    #[test]
    fn the_distance_is_that_of_a_search_along_the_edge(
        (length_ln, width_ln) in (-3.0..4.0_f64, -3.0..4.0_f64),
        (x_m, y_m) in (-120.0..120.0_f64, -120.0..120.0_f64),
        shift in (-50.0..50.0_f64, -50.0..50.0_f64),
        near_edge in prop::bool::ANY,
        angle in 0.0..TAU,
        beyond in 0.0..0.02_f64,
    ) {
        let (half_length_m, half_width_m) = (length_ln.exp(), width_ln.exp());
        let place = if near_edge {
            let out = 1.0 + beyond;
            Point {
                x_m: out * half_length_m * angle.cos(),
                y_m: out * half_width_m * angle.sin(),
            }
        } else {
            Point { x_m, y_m }
        };
        let truth_m = searched_m(place, half_length_m, half_width_m);
        let centre = Point { x_m: shift.0, y_m: shift.1 };
        let moved = Point { x_m: place.x_m + shift.0, y_m: place.y_m + shift.1 };
        let found_m = distance_to_ellipse_m(moved, centre, half_length_m, half_width_m);
        prop_assert!(
            (found_m - truth_m).abs() < 1e-3,
            "V-216: {found_m} against {truth_m} m at {place:?}, {half_length_m} by {half_width_m}"
        );
        // The search is good to about 10⁻⁸ m, the square root of rounding; the formula should be no worse.
        prop_assert!((found_m - truth_m).abs() < 1e-7, "V-216: {found_m} against {truth_m} m");
    }
}

/// V-216: a circle and the axes have plain answers; inside and on the edge it is 0; nothing jumps at the edge.
#[test]
fn circles_axes_and_edges_have_their_plain_distances() {
    let centre = Point { x_m: 2.0, y_m: 10.0 };
    let distance_m = |dx: f64, dy: f64, a: f64, b: f64| {
        let place = Point { x_m: centre.x_m + dx, y_m: centre.y_m + dy };
        distance_to_ellipse_m(place, centre, a, b)
    };
    for (dx, dy, a, b, expected_m) in [
        (30.0, 40.0, 5.0, 5.0, 45.0),
        (12.0, 0.0, 8.0, 1.0, 4.0),
        (-12.0, 0.0, 1.0, 8.0, 11.0),
        (0.0, -6.0, 8.0, 1.0, 5.0),
        (0.0, 6.0, 0.5, 5.5, 0.5),
        (0.0, 0.0, 8.0, 1.0, 0.0),
        (7.9, 0.0, 8.0, 1.0, 0.0),
        (8.0, 0.0, 8.0, 1.0, 0.0),
        (0.0, 1e6, 8.0, 1.0, 1e6 - 1.0),
    ] {
        let found_m = distance_m(dx, dy, a, b);
        let allowed_m = 1e-9 + 1e-12 * expected_m;
        assert!((found_m - expected_m).abs() < allowed_m, "V-216: {found_m}, not {expected_m} m");
    }
    for beyond_m in [1e-3, 1e-6, 1e-9] {
        let found_m = distance_m(8.0 + beyond_m, 0.0, 8.0, 1.0);
        assert!((found_m - beyond_m).abs() < 1e-9, "V-216: {found_m} m at {beyond_m} m");
    }
}

/// V-217: the nearest of all features that give cover, whatever their order; other features do not count.
#[test]
fn the_nearest_cover_counts_and_nothing_else() {
    let feature = |x_m: f64, is_cover: bool| Feature {
        name: format!("at {x_m}"),
        centre: Point { x_m, y_m: 20.0 },
        half_length_m: 3.0,
        half_width_m: 2.0,
        depth_m: None,
        is_cover,
    };
    let place = Point { x_m: 0.0, y_m: 20.0 };
    let mut features = vec![feature(30.0, true), feature(5.0, false), feature(-13.0, true)];
    for _ in 0..2 {
        let found_m = distance_to_cover_m(&features, place).expect("there is cover");
        assert!((found_m - 10.0).abs() < 1e-9, "V-217: {found_m} m");
        features.reverse();
    }
    let inside = Point { x_m: -14.0, y_m: 20.5 };
    let found_m = distance_to_cover_m(&features, inside).expect("there is cover");
    assert!(found_m.abs() < 1e-12, "V-217: {found_m} m inside");
    assert_eq!(distance_to_cover_m(&[feature(5.0, false)], place), None, "V-217: no cover");
}
