//! Light above and under water against a glossary's values, lakes that were measured, and definitions.

use sim::water::{
    Clarity, WaterParams, attenuation_per_m, brightness, cloud_transmission, illuminance_lx,
    light_at_depth_lx, sunlight_lx,
};

use crate::evidence::near;
use crate::measured::measured;

/// V-206: twilight on a clear evening, Glossary of Meteorology of the American Meteorological Society (entries civil,
/// nautical and astronomical twilight): from 585–410 lx at sunset to 3.5–2 lx at −6°, 0.008 lx at −12° and
/// 6·10⁻⁴ lx at −18°.
#[test]
fn twilight_fades_as_the_glossary_has_it() {
    let evening = [
        (-0.833, 410.0, 585.0),
        (-6.0, 2.0, 3.5),
        // To the digits printed.
        (-12.0, 0.007_5, 0.008_5),
        (-18.0, 5.5e-4, 6.5e-4),
    ];
    let [sunset_lx, civil_lx, nautical_lx, astronomical_lx] =
        evening.map(|(elevation_deg, low_lx, high_lx)| {
            let found_lx = sunlight_lx(elevation_deg);
            assert!(
                (low_lx..high_lx).contains(&found_lx),
                "V-206: {found_lx} lx at {elevation_deg}°, not {low_lx} to {high_lx}"
            );
            found_lx
        });
    measured!(
        "V-206",
        "{sunset_lx:.0} lx at sunset (410 to 585), {civil_lx:.2} at −6° (2 to 3.5), {nautical_lx:.4} at −12° (0.008), \
         {astronomical_lx:.5} at −18° (0.0006)"
    );
    // Full sun: some 100 000 lx (Spitschan et al. 2016, Scientific Reports 6:26756); stars some 0.001 to 0.002.
    let params = WaterParams::central();
    let high_sun_lx = illuminance_lx(62.0, 0.0, &params);
    assert!((8e4..1.2e5).contains(&high_sun_lx), "V-206: {high_sun_lx} lx at 62°");
    let midnight_lx = illuminance_lx(-40.0, 0.0, &params);
    near("V-206 at midnight", midnight_lx, params.night_sky_lx, 1e-3);
}

/// V-206: the light grows with the height of the sun, and its pieces meet within 1 % (each is printed to two decimals
/// of log₁₀ E, 2.3 %).
#[test]
fn light_grows_with_the_sun_without_gaps() {
    let mut below_lx = sunlight_lx(-90.0);
    for thousandth in -89_999..=90_000 {
        let elevation_deg = 1e-3 * f64::from(thousandth);
        let here_lx = sunlight_lx(elevation_deg);
        // The pieces may step down where they meet.
        let ratio = here_lx / below_lx;
        assert!((0.99..1.012).contains(&ratio), "V-206: a step of {ratio} at {elevation_deg}°");
        below_lx = here_lx;
    }
    let steps = [-18.0, -12.0, -5.0, -0.8, 5.0, 20.0]
        .map(|joint: f64| sunlight_lx(joint + 1e-9) / sunlight_lx(joint - 1e-9) - 1.0);
    assert!(steps.iter().all(|step| step.abs() < 0.01), "V-206: {steps:?}");
    let largest = steps.iter().fold(0.0_f64, |largest, step| largest.max(step.abs()));
    measured!("V-206", "pieces meet within {:.2} %", 100.0 * largest);
    let tenths = (-900..900).map(|tenth| 0.1 * f64::from(tenth));
    for elevation_deg in tenths {
        let (low_lx, high_lx) = (sunlight_lx(elevation_deg), sunlight_lx(elevation_deg + 0.1));
        assert!(low_lx < 1.01 * high_lx, "V-206: {low_lx} lx, then {high_lx} at {elevation_deg}°");
    }
}

/// V-207: a clear sky keeps nothing back, a covered one three quarters (Kasten & Czeplak 1980); by eighths of the sky
/// the values that we worked out from the form.
#[test]
fn cloud_keeps_light_back_as_its_form_has_it() {
    let params = WaterParams::central();
    for (eighths, share) in [
        (0, 1.0),
        (1, 0.999),
        (2, 0.993),
        (3, 0.973),
        (4, 0.929),
        (6, 0.718),
        (7, 0.524),
        (8, 0.25),
    ] {
        let found = cloud_transmission(f64::from(eighths) / 8.0, &params);
        assert!((found - share).abs() < 5.1e-4, "V-207: {found} under {eighths} eighths");
    }
    let [clear_lx, dull_lx] = [0.0, 1.0].map(|cloud| illuminance_lx(30.0, cloud, &params));
    near("V-207 under a covered sky", dull_lx, 0.25 * clear_lx, 1e-9);
    assert!(cloud_transmission(1.5, &params) > 0.2, "V-207: more than all of the sky is all");
}

/// V-208: LaPerriere & Edmundson 2000 (Hydrobiologia, abstract): in nine lakes of Katmai 16 % of the light was left
/// at the Secchi depth and 1 % at 2.6 times that depth, in two stirred by other matter 30.4 and 32.8 %, and 4 times.
///
/// The central value must give the nine lakes within a tenth of the ratio of depths; the range must hold all eleven.
#[test]
fn light_at_the_secchi_depth_is_that_of_eleven_lakes() {
    let central = WaterParams::central();
    let row = WaterParams::book();
    let row = row.rows().iter().find(|row| row.key == "secchi_attenuation").expect("a row");
    let mut depths = 0.0;
    let mut left_share = 0.0;
    for secchi_m in [0.3, 1.0, 4.4, 17.0] {
        let one_per_cent_m = 100.0_f64.ln() / attenuation_per_m(secchi_m, &central);
        let off = near("V-208, depth of 1 %", one_per_cent_m / secchi_m, 2.6, 0.1);
        let left = light_at_depth_lx(1.0, secchi_m, secchi_m, &central)
            / light_at_depth_lx(1.0, 0.0, secchi_m, &central);
        println!("V-208: depth of 1 % {off:.1e} off");
        (depths, left_share) = (one_per_cent_m / secchi_m, left);
        assert!((left - 0.16).abs() < 0.03, "V-208: {left}");
    }
    let [most, least] = row.range.map(|attenuation| (-attenuation).exp());
    assert!(least < 0.16 && most > 0.328, "V-208: {least} to {most} left");
    measured!(
        "V-208",
        "{:.1} % of 16 left, {depths:.2} of 2.6 Secchi depths; the range leaves {:.0} to {:.0} %",
        100.0 * left_share,
        100.0 * least,
        100.0 * most
    );
}

/// V-208: what a metre lets through, two metres let through twice over; nothing is gained at the surface; clear water
/// is clearer than coloured, coloured than muddy, wherever their rows are drawn.
#[test]
fn light_falls_by_the_same_share_each_metre() {
    let params = WaterParams::central();
    for clarity in Clarity::ALL {
        let secchi_m = clarity.secchi_m(&params);
        let at = |depth_m| light_at_depth_lx(20_000.0, depth_m, secchi_m, &params);
        near("V-208, two metres", at(2.0) * at(0.0), at(1.0) * at(1.0), 1e-12);
        near("V-208, at the surface", at(0.0), 20_000.0 * 0.94, 1e-12);
        let marks = [0.5, 1.0, 2.0].map(|depth_m| brightness(at(depth_m)));
        println!("V-208: under 20 000 lx in {} water {marks:.2?} at 0.5, 1, 2 m", clarity.word());
    }
    let book = WaterParams::book();
    let range = |key: &str| book.rows().iter().find(|row| row.key == key).expect("a row").range;
    let [clear, coloured, muddy] =
        ["secchi_clear_m", "secchi_coloured_m", "secchi_muddy_m"].map(range);
    assert!(
        clear[0] > coloured[1] && coloured[0] > muddy[1],
        "V-208: {clear:?} {coloured:?} {muddy:?}"
    );
    for clarity in Clarity::ALL {
        assert_eq!(Clarity::from_word(clarity.word()), Some(clarity), "V-208");
    }
}

/// V-209: an eighth for each tenfold of light, 0 at 0.001 lx and darker, 1 at 100 000 lx and brighter.
#[test]
fn brightness_has_an_eighth_for_each_tenfold_of_light() {
    for eighth in 0..=8 {
        let found = brightness(10.0_f64.powi(eighth - 3));
        assert!((found - f64::from(eighth) / 8.0).abs() < 1e-12, "V-209: {found} at {eighth}/8");
    }
    for (illuminance_lx, expected) in [(0.0, 0.0), (1e-9, 0.0), (1.3e5, 1.0)] {
        assert!(
            (brightness(illuminance_lx) - expected).abs() < 1e-12,
            "V-209: {illuminance_lx} lx"
        );
    }
    let marks = [-12.0, -6.0, -0.833, 12.0].map(|deg| brightness(sunlight_lx(deg)));
    println!("V-209: brightness {marks:.2?} at −12°, −6°, sunset, 12°");
    for (mark, expected) in marks.into_iter().zip([0.1, 0.4, 0.7, 0.9]) {
        assert!((mark - expected).abs() < 0.05, "V-209: {mark}, stated as {expected}");
    }
    let [deep, civil, sunset, high] = marks;
    measured!(
        "V-209",
        "{deep:.2} at −12°, {civil:.2} at −6°, {sunset:.2} at sunset, {high:.2} with the sun at 12°"
    );
}
