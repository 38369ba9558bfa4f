//! Perception of a fish: noticing, being startled, and taking a bait.

use proptest::prelude::*;
use sim::fish::{
    Experience, FishParams, Sound, boldness_towards_tackle, company_chance, smell_chance,
    take_chance,
};

use crate::evidence::near;

/// V-37: at the half distance or half concentration of the book the chance is half; nearer or stronger it is larger.
#[test]
fn the_chance_of_noticing_is_half_at_the_half_distance_and_half_concentration() {
    let params = FishParams::central();
    let splash = Sound::new(0.06, 0.0, &params);
    near("V-37 heard", splash.heard_share(params.hearing_m), 0.5, 1e-12);
    near("V-37 heard at hand", splash.heard_share(0.0), 1.0, 1e-12);
    near("V-37 startled", splash.startle_share(params.startle_radius_m), 0.5, 1e-12);
    let deep = Sound::new(0.06, params.startle_depth_m, &params);
    near("V-37 startled at depth", deep.startle_share(0.0), (-1.0_f64).exp(), 1e-12);
    let left = splash.heard_share(splash.reach_m()).max(splash.startle_share(splash.reach_m()));
    assert!(left <= 0.5_f64.powi(9), "V-37: {left} remains at its maximum distance");
    near("V-37 smelt", smell_chance(params.odour_half_mol_m3, &params), 0.5, 1e-12);
    assert!(smell_chance(0.0, &params) <= 0.0);
    let seen = company_chance(params.company_half_mouthfuls, &params);
    near("V-37 company", seen, 0.5 * params.company_share, 1e-12);
    assert!(company_chance(0.0, &params) <= 0.0);

    // A splash of eight times the mass is heard 8^0.33 times as far.
    let far_m = params.hearing_m * 8_f64.powf(params.loudness_exponent);
    near("V-37 a heavier splash", Sound::new(0.48, 0.0, &params).heard_share(far_m), 0.5, 1e-12);
}

proptest! {
    #![proptest_config(crate::evidence::the_same_cases())]

    /// V-37: chances are between 0 and 1, and fall with distance.
    #[test]
    fn the_chance_of_noticing_falls_with_distance(
        near_m in 0.0_f64..50.0,
        further_m in 0.0_f64..50.0,
        depth_m in 0.1_f64..6.0,
        splash_kg in 0.005_f64..0.3,
        concentration in 0.0_f64..1.0,
    ) {
        let params = FishParams::central();
        let far_m = near_m + further_m;
        let sound = Sound::new(splash_kg, depth_m, &params);
        for (close, distant) in [
            (sound.heard_share(near_m), sound.heard_share(far_m)),
            (sound.startle_share(near_m), sound.startle_share(far_m)),
            (company_chance(far_m, &params), company_chance(near_m, &params)),
            (smell_chance(2.0 * concentration, &params), smell_chance(concentration, &params)),
        ] {
            prop_assert!((0.0..=1.0).contains(&close) && (0.0..=1.0).contains(&distant));
            prop_assert!(distant <= close, "{distant} further off, {close} near");
        }
    }

    /// V-38: the chance of taking is between 0 and 1, for any book, size and feeding motivation; it grows with the
    /// motivation and falls with experience.
    #[test]
    fn the_chance_of_taking_grows_with_feeding_motivation(
        mass_kg in 0.05_f64..20.0,
        keenness in 0.0_f64..200.0,
        keener_by in 0.0_f64..200.0,
        hooked in 0_u32..20,
        seen in 0_u32..200,
        take_share in 0.01_f64..0.99,
        size_wariness in -0.5_f64..0.5,
    ) {
        let params = FishParams { take_share, size_wariness, ..FishParams::central() };
        let experience = Experience { hooked, seen };
        let chance = take_chance(mass_kg, keenness, experience, &params);
        let keener = take_chance(mass_kg, keenness + keener_by, experience, &params);
        let taught = Experience { hooked: hooked + 1, seen };
        let warier = take_chance(mass_kg, keenness, taught, &params);
        prop_assert!((0.0..=1.0).contains(&chance), "chance {chance}");
        // Rounding near 1 may lose the last digit.
        prop_assert!(keener >= chance - 1e-12, "{keener} keener, {chance} before");
        prop_assert!(warier <= chance + 1e-12, "{warier} after a lesson, {chance} before");
    }
}

/// V-38: an average fish of 1 kg takes with the book's chance; size changes the odds by the book's amount for each
/// doubling, in either direction.
#[test]
fn an_average_fish_takes_with_the_chance_of_the_book() {
    let naive = Experience::default();
    for size_wariness in [-0.3, 0.0, 0.3] {
        let params = FishParams { size_wariness, ..FishParams::central() };
        let one = take_chance(1.0, 1.0, naive, &params);
        near("V-38 ordinary", one, params.take_share, 1e-12);
        let four = take_chance(4.0, 1.0, naive, &params);
        let log_odds = |p: f64| (p / (1.0 - p)).ln();
        let moved = log_odds(four) - log_odds(one);
        assert!((moved + 2.0 * size_wariness).abs() < 1e-12, "V-38: log-odds moved by {moved}");
        assert!(
            take_chance(1.0, 0.0, naive, &params) <= 0.0,
            "V-38: a fish without hunger does not take"
        );
    }
}

/// V-39: experience lowers willingness from one towards the book's minimum, by e for each lesson's worth. One capture of its own
/// affects a fish more than one that it saw (Lovén Wallerius et al. 2020, Trans. Am. Fish. Soc. 149:498-511).
#[test]
fn captures_lower_willingness_to_a_minimum() {
    let params = FishParams::central();
    let after = |hooked, seen| Experience { hooked, seen }.willingness(&params);
    near("V-39 without lessons", after(0, 0), 1.0, 1e-12);
    near("V-39 the floor", after(50, 0), params.wary_floor, 1e-12);
    assert!(after(1, 0) < after(0, 1), "V-39: its own capture has more effect");
    assert!(after(0, 1) < 1.0, "V-39: a capture seen has some effect");
    let closed = params.wary_floor + (1.0 - params.wary_floor) * (-params.own_capture_lesson).exp();
    near("V-39 after one capture", after(1, 0), closed, 1e-12);
    // A captured fish of 1 kg takes by that much less: p = 1 − (1 − p₀)^m.
    let taught = Experience { hooked: 1, seen: 0 };
    let takes = 1.0 - (1.0 - params.take_share).powf(closed);
    near("V-39 takes after it", take_chance(1.0, 1.0, taught, &params), takes, 1e-12);
    let lessons: Vec<f64> = (0..30).map(|hooked| after(hooked, 3)).collect();
    assert!(lessons.windows(2).all(|w| w[1] < w[0] && w[1] > params.wary_floor - 1e-12));
}

/// V-341: a line k times as thick that is clearly seen, and a hook l times as large, leave k to the minus first and l to
/// the minus second power of the book of the readiness to take; an unseen line leaves all of it.
#[test]
fn fish_shy_from_thick_lines_that_they_see_and_from_large_hooks() {
    let params = FishParams::central();
    let left = |diameter: f64, seen: f64, gape: f64| {
        boldness_towards_tackle(diameter, seen, gape, &params)
    };
    near("V-341 ordinary tackle", left(1.0, 1.0, 1.0), 1.0, 1e-12);
    near("V-341 unseen", left(3.0, 0.0, 1.0), 1.0, 1e-12);
    near("V-341 twice as thick", left(2.0, 1.0, 1.0), 2.0_f64.powf(-params.line_shyness), 1e-12);
    let half_seen = 2.0_f64.powf(-0.5 * params.line_shyness);
    near("V-341 half seen", left(2.0, 0.5, 1.0), half_seen, 1e-12);
    near("V-341 a large hook", left(1.0, 1.0, 1.4), 1.4_f64.powf(-params.hook_shyness), 1e-12);
    assert!(
        left(2.0, 1.0, 1.0) < 0.9 && left(1.0, 1.0, 1.4) < 0.95,
        "V-341: both fall in the book"
    );
}
