//! Length and weight: standard weights of carp, a wild population, and a catch of bream.

use proptest::prelude::*;
use sim::fish::LengthWeight;
use statrs::distribution::{ContinuousCDF, Normal};

use crate::evidence::{as_printed, mean, near, standard_error, within_z};

/// Wild carp of a reservoir: W = 0.0163 L^2.935 in grams and centimetres, n = 406 (Yilmaz & Cerim, Acta
/// Natura & Scientia).
const RESERVOIR: LengthWeight = LengthWeight { factor_g: 0.0163, exponent: 2.935 };

const LENGTHS_MM: [f64; 6] = [200.0, 300.0, 400.0, 500.0, 600.0, 700.0];

/// V-20: standard weights of carp by Bister et al. 2000 (NAJFM 20:570-574), to a thousandth: the factor a of the
/// code is 10^(−4.639 + 2.920) to six digits.
#[test]
fn carp_have_their_published_standard_weights() {
    for (length_mm, grams) in
        LENGTHS_MM.into_iter().zip([120.2, 392.8, 909.9, 1745.8, 2973.0, 4663.2])
    {
        let result = 1000.0 * LengthWeight::CARP.mass_kg(1e-3 * length_mm);
        let published = 10_f64.powf(-4.639 + 2.920 * length_mm.log10());
        as_printed("V-20 published form [g]", published, grams, 1);
        let off = near(&format!("V-20 at {length_mm} mm [g]"), result, grams, 1e-3);
        println!("V-20 at {length_mm} mm: {result:.1} g, off by {off:.1e}");
    }
    // Length classes of Gabelhouse 1984 with the weights commonly stated for them.
    as_printed("V-20 quality, 41 cm [kg]", LengthWeight::CARP.mass_kg(0.41), 0.98, 2);
    as_printed("V-20 preferred, 53 cm [kg]", LengthWeight::CARP.mass_kg(0.53), 2.07, 2);
}

/// V-21: the form can represent a wild population, and the default is heavier by 9 to 13 % at every length, as a
/// standard weight (the third quartile of populations) has to be.
#[test]
fn a_wild_population_is_leaner_than_the_standard_weight() {
    for (length_mm, grams) in
        LENGTHS_MM.into_iter().zip([107.3, 352.8, 820.8, 1580.0, 2698.1, 4241.8])
    {
        let result = 1000.0 * RESERVOIR.mass_kg(1e-3 * length_mm);
        as_printed(&format!("V-21 at {length_mm} mm [g]"), result, grams, 1);
        let plumper = LengthWeight::CARP.mass_kg(1e-3 * length_mm) * 1000.0 / result;
        assert!((1.09..1.13).contains(&plumper), "V-21: {plumper} at {length_mm} mm");
    }
}

proptest! {
    #![proptest_config(crate::evidence::the_same_cases())]

    /// V-21: length from mass is the inverse of mass from length, for any law that fish have been found to follow
    /// (exponents 2.5 to 3.5, Froese 2006, J. Applied Ichthyology 22:241-253).
    #[test]
    fn length_and_mass_are_inverse_functions(
        length_m in 0.05_f64..1.2,
        factor_g in 0.003_f64..0.06,
        exponent in 2.5_f64..3.5,
    ) {
        let law = LengthWeight { factor_g, exponent };
        let back_m = law.length_m(law.mass_kg(length_m));
        prop_assert!((back_m - length_m).abs() < 1e-12, "{back_m} m against {length_m} m");
    }
}

/// Bream of lake Längelmävesi: total length [cm], weight [g] (Brofeldt 1917, by way of the Journal of Statistics
/// Education's data archive); the one that was not weighed is left out.
const BREAM: [[f64; 2]; 34] = [
    [30.0, 242.0],
    [31.2, 290.0],
    [31.1, 340.0],
    [33.5, 363.0],
    [34.0, 430.0],
    [34.7, 450.0],
    [34.5, 500.0],
    [35.0, 390.0],
    [35.1, 450.0],
    [36.2, 500.0],
    [36.2, 475.0],
    [36.2, 500.0],
    [36.4, 500.0],
    [37.2, 600.0],
    [37.2, 600.0],
    [38.3, 700.0],
    [38.5, 700.0],
    [38.6, 610.0],
    [38.7, 650.0],
    [39.5, 575.0],
    [39.2, 685.0],
    [39.7, 620.0],
    [40.6, 680.0],
    [40.5, 700.0],
    [40.9, 725.0],
    [40.6, 720.0],
    [41.5, 714.0],
    [41.6, 850.0],
    [42.6, 1000.0],
    [44.1, 920.0],
    [44.0, 955.0],
    [45.3, 925.0],
    [45.9, 975.0],
    [46.5, 950.0],
];

/// V-118: weights of a real catch are lognormal, the distribution of masses within a shoal: mean 626 g, coefficient
/// of variation 0.33, standard deviation of the logarithm 0.36 (computed from the data). A lognormal with this
/// variation has √ln(1 + 0.33²) = 0.32. The sample's own may differ by two standard errors of a standard deviation,
/// 0.36/√(2·33) = 0.044 each, and logarithms must have D√n < 1.22 (Kolmogorov and Smirnov at one in ten; with mean
/// and deviation fitted the test is easier to pass).
#[test]
fn weights_of_a_catch_of_bream_are_lognormal() {
    let grams = BREAM.map(|[_, grams]| grams);
    let n = grams.len() as f64;
    let sd = |of: &[f64]| standard_error(of) * n.sqrt();
    let logs = grams.map(f64::ln);
    as_printed("V-118 mean [g]", mean(&grams), 626.0, 0);
    as_printed("V-118 coefficient of variation", sd(&grams) / mean(&grams), 0.33, 2);
    as_printed("V-118 deviation of the logarithm", sd(&logs), 0.36, 2);
    let cv = sd(&grams) / mean(&grams);
    let of_law = (1.0 + cv * cv).ln().sqrt();
    println!("V-118 deviation of the logarithm {:.3}, of the law {of_law:.3}", sd(&logs));
    assert!((sd(&logs) - of_law).abs() < 0.088, "V-118: {} against {of_law}", sd(&logs));
    let law = Normal::new(mean(&logs), sd(&logs)).expect("a deviation");
    let mut sorted = logs.to_vec();
    sorted.sort_by(f64::total_cmp);
    let apart = |(at, log): (usize, &f64)| {
        let below = law.cdf(*log);
        (below - at as f64 / n).abs().max((below - (at + 1) as f64 / n).abs())
    };
    let largest = sorted.iter().enumerate().map(apart).fold(0.0, f64::max);
    println!("V-118 D√n = {:.2}", largest * n.sqrt());
    assert!(largest * n.sqrt() < 1.22, "V-118: D√n = {}", largest * n.sqrt());
}

/// V-34: a power law describes a real catch: weights about W = 0.007142 L^3.1093 (fitted by us) have a spread of 9 %
/// and no trend with length.
#[test]
fn a_catch_of_bream_follows_a_power_law() {
    let law = LengthWeight { factor_g: 0.007_142, exponent: 3.1093 };
    let left: Vec<f64> = BREAM
        .iter()
        .map(|&[length_cm, grams]| (grams / (1000.0 * law.mass_kg(0.01 * length_cm))).ln())
        .collect();
    within_z("V-34 mean of the logarithm's rest", mean(&left), 0.0, standard_error(&left));
    let squares: f64 = left.iter().map(|rest| rest * rest).sum();
    as_printed("V-34 spread about the law", (squares / (left.len() as f64 - 2.0)).sqrt(), 0.092, 3);

    let middle = mean(&BREAM.map(|[length_cm, _]| length_cm.ln()));
    let across: Vec<f64> = BREAM.iter().map(|[length_cm, _]| length_cm.ln() - middle).collect();
    let sum_squares: f64 = across.iter().map(|x| x * x).sum();
    let trend: f64 = across.iter().zip(&left).map(|(x, rest)| x * rest).sum::<f64>() / sum_squares;
    within_z("V-34 trend left", trend, 0.0, 0.092 / sum_squares.sqrt());
}
