//! The gut, and the effect of temperature and oxygen on appetite.

use sim::engine::Time;
use sim::fish::{Appetite, FishParams, gut_rate_per_h, oxygen_factor, temperature_factor};

use crate::evidence::{as_printed, near};
use crate::measured::measured;

/// V-19: 6.0 % an hour at 9 °C and 32.7 % at 26.5 °C in wild carp (Garcia & Adelman 1985, J. Fish Biology
/// 27:487-493, abstract). The law goes through both points, so it must agree to the digits printed.
#[test]
fn the_gut_empties_at_the_measured_rates() {
    let params = FishParams::central();
    as_printed("V-19 at 9 °C [%/h]", 100.0 * gut_rate_per_h(9.0, &params), 6.0, 1);
    as_printed("V-19 at 26.5 °C [%/h]", 100.0 * gut_rate_per_h(26.5, &params), 32.7, 1);
    let q10 = gut_rate_per_h(20.0, &params) / gut_rate_per_h(10.0, &params);
    as_printed("V-19 growth over ten degrees", q10, 2.64, 2);
}

/// V-19: rates, half-times and the share emptied in five hours, computed by us from the exponential through the two
/// measured points: temperature [°C], rate [1/h], half-time [h], share.
///
/// The book has the factor and the growth of that exponential to four digits: up to 2·10⁻⁴ and 1.3·10⁻⁴ of a rate at
/// 25 °C, so 4·10⁻⁴ is allowed between the code and the exact exponential.
#[test]
fn a_gut_is_half_empty_after_its_half_time() {
    let params = FishParams::central();
    let growth_per_c = (0.327_f64 / 0.060).ln() / (26.5 - 9.0);
    for (temperature_c, rate, half_h, gone) in [
        (5.0, 0.0407, 17.0, 0.18),
        (8.0, 0.0545, 12.7, 0.24),
        (10.0, 0.0661, 10.5, 0.28),
        (12.0, 0.0802, 8.6, 0.33),
        (15.0, 0.1073, 6.5, 0.42),
        (18.0, 0.1435, 4.8, 0.51),
        (20.0, 0.1742, 4.0, 0.58),
        (22.0, 0.2114, 3.3, 0.65),
        (25.0, 0.2828, 2.5, 0.76),
    ] {
        let at = format!("V-19 at {temperature_c} °C");
        let exact = 0.060 * (growth_per_c * (temperature_c - 9.0)).exp();
        as_printed(&format!("{at} [1/h]"), exact, rate, 4);
        as_printed(&format!("{at}, half-time [h]"), 2.0_f64.ln() / exact, half_h, 1);
        let result = gut_rate_per_h(temperature_c, &params);
        near(&format!("{at} [1/h]"), result, exact, 4e-4);

        let mut gut = Appetite::new(0.02, 1.0);
        gut.digest_until(Time::from_seconds(5.0 * 3600.0), result / 3600.0);
        as_printed(&format!("{at}, gone in 5 h"), 1.0 - gut.gut_kg / 0.02, gone, 2);
        as_printed(&format!("{at}, hunger after 5 h"), gut.hunger(), gone, 2);
        gut = Appetite::new(0.02, 1.0);
        gut.digest_until(Time::from_seconds(3600.0 * 2.0_f64.ln() / result), result / 3600.0);
        near(&format!("{at}, left after its half-time [kg]"), gut.gut_kg, 0.01, 1e-8);
    }
}

/// V-19: many small steps digest as much as one large step, and eating conserves the mass of food.
#[test]
fn digestion_does_not_depend_on_the_time_step() {
    let mut stepped = Appetite::new(0.02, 0.8);
    let mut once = stepped;
    for second in 1..=7200 {
        stepped.digest_until(Time::from_seconds(f64::from(second)), 5e-5);
    }
    once.digest_until(Time::from_seconds(7200.0), 5e-5);
    near("V-19 gut [kg]", stepped.gut_kg, once.gut_kg, 1e-11);
    near("V-19 gut [kg]", once.gut_kg, 0.016 * (-0.36_f64).exp(), 1e-12);
    once.eat(0.004);
    near("V-19 gut after a meal [kg]", once.gut_kg, 0.016 * (-0.36_f64).exp() + 0.004, 1e-12);
    once.eat(1.0);
    assert!(once.hunger() <= 0.0, "V-19: an overfull fish has hunger {}", once.hunger());
    assert!(Appetite::new(0.0, 0.0).hunger() <= 0.0, "V-19: nothing can be eaten in the cold");
}

/// The dome alone: the factor without its limit in the cold.
fn dome(temperature_c: f64, params: &FishParams) -> f64 {
    let cutoff =
        1.0 / (1.0 + (-(temperature_c - params.cold_cutoff_c) / params.cold_width_c).exp());
    temperature_factor(temperature_c, params) / cutoff
}

/// V-22: the dome of Kitchell, Stewart & Weininger 1977 (J. Fisheries Research Board of Canada
/// 34:1922-1935) for bighead carp, whose row of parameters (2.5, 26 °C, 38 °C) is published (Cooke & Hill
/// 2010, in Fish Bioenergetics 4.0), and for the default between two Asian carps; values computed by us.
#[test]
fn appetite_has_the_published_temperature_dome() {
    let carp = FishParams::central();
    for (temperature_c, value) in [
        (5.0, 0.135),
        (8.0, 0.198),
        (10.0, 0.253),
        (12.0, 0.320),
        (15.0, 0.446),
        (18.0, 0.601),
        (20.0, 0.715),
        (22.0, 0.828),
        (25.0, 0.965),
        (27.0, 1.000),
        (28.0, 0.989),
        (30.0, 0.887),
        (32.0, 0.655),
        (34.0, 0.300),
    ] {
        as_printed(&format!("V-22 at {temperature_c} °C"), dome(temperature_c, &carp), value, 3);
    }
    let bighead = FishParams {
        warmth_q10_like: 2.5,
        warmth_best_c: 26.0,
        warmth_limit_c: 38.0,
        ..carp.clone()
    };
    for (temperature_c, value) in [(10.0, 0.2597), (20.0, 0.7693), (26.0, 1.0), (30.0, 0.8187)] {
        let what = format!("V-22 bighead at {temperature_c} °C");
        as_printed(&what, dome(temperature_c, &bighead), value, 4);
    }
    assert!(temperature_factor(36.0, &carp) <= 0.0);
    assert!(temperature_factor(45.0, &carp) <= 0.0);
}

/// V-22: carp feed best at 20 to 28 °C, less below 15, almost nothing below about 8 (FAO AFFRIS, Oyugi et al. 2012,
/// Goolish & Adelman 1984). The test requires the shape, not a value.
#[test]
fn carp_feed_in_warm_water_and_hardly_in_cold_water() {
    let params = FishParams::central();
    let factor = |temperature_c: f64| temperature_factor(temperature_c, &params);
    let best = (0..3600)
        .map(|i| 0.01 * f64::from(i))
        .max_by(|a, b| factor(*a).total_cmp(&factor(*b)))
        .unwrap_or(0.0);
    assert!((24.0..=28.0).contains(&best), "V-22: the maximum is at {best} °C");
    assert!(factor(5.0) < 0.03, "V-22: {} at 5 °C", factor(5.0));
    assert!(factor(7.0) < 0.1, "V-22: {} at 7 °C", factor(7.0));
    assert!(factor(14.0) < 0.5 * factor(24.0), "V-22: {} at 14 °C", factor(14.0));
    for i in 0..3599 {
        let (cooler, warmer) = (0.01 * f64::from(i), 0.01 * f64::from(i + 1));
        let rises = factor(warmer) >= factor(cooler);
        assert!((0.0..=1.0).contains(&factor(cooler)));
        assert_eq!(rises, warmer <= best, "V-22: one maximum only, at {cooler} °C");
    }
    measured!(
        "V-22",
        "keenest at {best:.0} °C; {:.3} at 5 °C, {:.3} at 8 °C",
        factor(5.0),
        factor(8.0)
    );
}

/// V-35: feeding is whole above the book's upper level of oxygen, none below its lower one, and linear between. The upper level agrees
/// with an intake reduced at 3.2 to 4.5 mg/L in turbot and sea bass (Pichavant et al. 2001, J. Fish Biology 59:875-883).
#[test]
fn low_oxygen_reduces_feeding() {
    let params = FishParams::central();
    let (none, full) = (params.oxygen_none_mg_l, params.oxygen_full_mg_l);
    let quarter = none + 0.25 * (full - none);
    for (oxygen_mg_l, factor) in
        [(0.0, 0.0), (none, 0.0), (quarter, 0.25), (full, 1.0), (full + 0.5, 1.0), (12.0, 1.0)]
    {
        let result = oxygen_factor(oxygen_mg_l, &params);
        assert!((result - factor).abs() < 1e-12, "V-35: {result} at {oxygen_mg_l} mg/L");
    }
    for oxygen_mg_l in [3.2, 4.4] {
        assert!(oxygen_factor(oxygen_mg_l, &params) < 1.0, "V-35: reduced at {oxygen_mg_l} mg/L");
    }
}
