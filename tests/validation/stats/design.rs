//! Space-filling points against published points, and their properties.

use std::collections::BTreeSet;

use sim::engine::Dice;
use sim::stats::{Sobol, latin_hypercube};

use crate::engine::is_uniform;
use crate::evidence::{mean, mean_is, standard_error};
use crate::measured::measured;

/// Number of the 2^across × 2^down equal boxes of two coordinates that contain a point.
fn boxes(points: &[Vec<f64>], (i, j): (usize, usize), (across, down): (i32, i32)) -> usize {
    let cell = |x: f64, bits: i32| (x * 2_f64.powi(bits)) as u32;
    let filled: BTreeSet<(u32, u32)> =
        points.iter().map(|point| (cell(point[i], across), cell(point[j], down))).collect();
    filled.len()
}

fn first_points(sequence: &Sobol, n: u32) -> Vec<Vec<f64>> {
    (0..n).map(|number| sequence.point(number)).collect()
}

/// V-86: the first ten points in six dimensions (Joe & Kuo; two other programs print the same).
#[test]
fn sobol_points_are_the_published_ones() {
    let published = [
        [0.0; 6],
        [0.5; 6],
        [0.75, 0.25, 0.25, 0.25, 0.75, 0.75],
        [0.25, 0.75, 0.75, 0.75, 0.25, 0.25],
        [0.375, 0.375, 0.625, 0.875, 0.375, 0.125],
        [0.875, 0.875, 0.125, 0.375, 0.875, 0.625],
        [0.625, 0.125, 0.875, 0.625, 0.625, 0.875],
        [0.125, 0.625, 0.375, 0.125, 0.125, 0.375],
        [0.1875, 0.3125, 0.9375, 0.4375, 0.5625, 0.3125],
        [0.6875, 0.8125, 0.4375, 0.9375, 0.0625, 0.8125],
    ];
    assert_eq!(first_points(&Sobol::new(6), 10), published);
}

/// V-86: every dimension of the table, not only those with published points, is a (0, 1)-sequence; the first two
/// together fill every box of equal area.
#[test]
fn sobol_points_fill_every_stratum() {
    let sequence = Sobol::new(Sobol::MAX_DIMENSIONS);
    let points = first_points(&sequence, 1024);
    for dimension in 0..Sobol::MAX_DIMENSIONS {
        assert_eq!(boxes(&points, (dimension, dimension), (10, 0)), 1024, "dimension {dimension}");
    }
    for across in 0..=10 {
        assert_eq!(boxes(&points, (0, 1), (across, 10 - across)), 1024, "2^{across} across");
    }
}

/// V-87: scrambling keeps the stratification of points and makes each of them uniform.
#[test]
fn scrambled_points_are_uniform_and_keep_their_stratification() {
    let sequence = Sobol::scrambled(40, &mut Dice::from_key(&[11]));
    let points = first_points(&sequence, 1024);
    for dimension in 0..40 {
        assert_eq!(boxes(&points, (dimension, dimension), (10, 0)), 1024, "dimension {dimension}");
    }
    for across in 0..=10 {
        assert_eq!(boxes(&points, (0, 1), (across, 10 - across)), 1024, "2^{across} across");
    }
    // One point under many scramblings: two of its coordinates are independent, and so are two points that are not
    // in the same half. The product of their deviations has mean zero.
    let scrambled = |seed| Sobol::scrambled(24, &mut Dice::from_key(&[12, seed]));
    let (fifth, sixth): (Vec<_>, Vec<_>) =
        (0..4000).map(|seed| (scrambled(seed).point(5), scrambled(seed).point(6))).unzip();
    for dimension in [0, 1, 7, 23] {
        let one: Vec<f64> = fifth.iter().map(|point| point[dimension]).collect();
        is_uniform(&format!("coordinate {dimension}"), one);
    }
    let product = |a: f64, b: f64| (a - 0.5) * (b - 0.5);
    let across: Vec<f64> = fifth.iter().map(|point| product(point[3], point[23])).collect();
    mean_is("product of two coordinates", &across, 0.0);
    // Points 5 and 6 (0.875 and 0.625 in the first coordinate) differ from the second digit on: they take the two
    // quarters of one half, h ± q with h = ±1/4 and q = ±1/8, so that E(h + q)(h − q) = 1/16 − 1/64.
    let together: Vec<f64> = fifth.iter().zip(&sixth).map(|(a, b)| product(a[0], b[0])).collect();
    mean_is("product of two points of one half", &together, 1.0 / 16.0 - 1.0 / 64.0);
}

/// V-87: the error of a smooth integral falls at the published rate.
#[test]
fn scrambled_points_integrate_without_bias_and_with_a_tenth_of_the_error() {
    // ∏ (1 + (x − ½)/2) over six coordinates has integral 1 and variance (1 + 1/48)^6 − 1 = 0.1317. The mean of 256
    // random points has a standard error of 0.0227; Owen scrambling guarantees no more than that times a constant,
    // and for smooth functions n^−3/2 (Owen 1997). The test requires a tenth of the random error.
    let integral = |seed| {
        let sequence = Sobol::scrambled(6, &mut Dice::from_key(&[13, seed]));
        let values: Vec<f64> = first_points(&sequence, 256)
            .iter()
            .map(|point| point.iter().map(|x| 1.0 + 0.5 * (x - 0.5)).product())
            .collect();
        mean(&values)
    };
    let means: Vec<f64> = (0..200).map(integral).collect();
    mean_is("integral", &means, 1.0);
    let error = standard_error(&means) * 200_f64.sqrt();
    println!("standard error of one mean {error:.5}, by chance 0.0227");
    assert!(error < 0.00227, "standard error {error}, by chance 0.0227");
    measured!("V-87", "error {error:.4} against 0.0227 by chance");
}

/// V-88: each stratum of each coordinate once.
#[test]
fn a_latin_hypercube_has_one_point_in_every_stratum() {
    for (points, dimensions) in [(1, 1), (7, 3), (50, 24), (1000, 2)] {
        let design = latin_hypercube(points, dimensions, &mut Dice::from_key(&[14]));
        assert_eq!((design.len(), design[0].len()), (points, dimensions));
        for dimension in 0..dimensions {
            let filled: BTreeSet<usize> =
                design.iter().map(|point| (point[dimension] * points as f64) as usize).collect();
            assert_eq!(filled.len(), points, "coordinate {dimension} of {points} points");
        }
    }
}

/// V-88: a point is uniform, its coordinates are independent, and a sum of functions has a far smaller error.
#[test]
fn a_latin_hypercube_removes_the_variance_of_a_sum_of_functions() {
    let design = |seed| latin_hypercube(50, 2, &mut Dice::from_key(&[15, seed]));
    let designs: Vec<_> = (0..2000).map(design).collect();
    is_uniform("first coordinate", designs.iter().map(|points| points[0][0]).collect());
    let product: Vec<f64> =
        designs.iter().map(|points| (points[0][0] - 0.5) * (points[0][1] - 0.5)).collect();
    mean_is("product of two coordinates", &product, 0.0);
    // exp(u₁) + u₂²: mean e − 1 + 1/3; variance of one value (e²−1)/2 − (e−1)² + 4/45 = 0.3309. Within a stratum of
    // width 1/50 a function of slope f′ has variance f′²/12/50², so the mean of 50 has variance (E f₁′² + E
    // f₂′²)/12/50³ = ((e²−1)/2 + 4/3)/1.5·10⁶ = 3.02·10⁻⁶: 2 190 times less than for random points.
    let e = std::f64::consts::E;
    let means: Vec<f64> = designs
        .iter()
        .map(|points| mean(&points.iter().map(|x| x[0].exp() + x[1] * x[1]).collect::<Vec<_>>()))
        .collect();
    mean_is("mean of a sum", &means, e - 1.0 + 1.0 / 3.0);
    let by_chance = ((e * e - 1.0) / 2.0 - (e - 1.0).powi(2) + 4.0 / 45.0) / 50.0;
    let variance = standard_error(&means).powi(2) * 2000.0;
    let ratio = by_chance / variance;
    // The variance of 2000 nearly normal values has a relative standard error of √(2/1999) = 3.2 %; four of them are
    // allowed, and 2 % for the curvature within a stratum.
    println!("variance by chance over variance here: {ratio:.0}");
    assert!((ratio / 2190.0 - 1.0).abs() < 0.15, "ratio {ratio}, expected 2190 within 15 %");
    measured!("V-88", "ratio {ratio:.0}");
}
