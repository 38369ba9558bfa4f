//! Charts of a sweep: maps, rows of maps and main effects of any size have no overlaps.

use std::path::Path;

use sim::report::{sweep_pictures, sweep_text};
use sim::scenario::Units::{Imperial, Metric};
use sim::study::{Estimate, Stamp, SweepResult, SweptPlan, SweptSetting, SweptWeightKg};

use crate::report::unbroken;
use crate::report::{check_layout, write_pictures};

/// An invented sweep over every combination; the best point is where all keys are at `best` of their range.
fn invented(keys: &[(&str, &[&str])], best: f64, kg: f64) -> SweepResult {
    let count = keys.iter().map(|(_, values)| values.len()).product();
    let setting = |mut number: usize| {
        let mut values = Vec::new();
        let mut away = 0.0;
        for (_, list) in keys.iter().rev() {
            let at = number % list.len();
            number /= list.len();
            away += (at as f64 / (list.len() as f64 - 1.0).max(1.0) - best).powi(2);
            values.insert(0, list[at].to_owned());
        }
        let mean = kg * (-2.0 * away).exp();
        let behind = kg - mean;
        SweptSetting {
            values,
            plans: vec![SweptPlan {
                name: "two-minutes".to_owned(),
                weight_kg: SweptWeightKg {
                    mean: Estimate::new(mean, 0.95 * mean, 1.05 * mean),
                    p10: 0.6 * mean,
                    p90: 1.4 * mean,
                },
                fish_mean: mean,
                casts_mean: 100.0,
                bait_mean_kg: 1.0,
                shortfall_kg: Estimate::new(behind, behind - 0.1 * kg, behind + 0.1 * kg),
                near_best: behind - 0.1 * kg <= SweepResult::NEAR_BEST_SHARE * kg,
            }],
        }
    };
    SweepResult {
        format: SweepResult::FORMAT,
        stamp: Stamp::new("invented", "", 1),
        design: "invented".to_owned(),
        days: 400,
        keys: keys.iter().map(|&(key, _)| format!("plan.two-minutes.{key}")).collect(),
        weights_sha256: String::new(),
        settings: (0..count).map(setting).collect(),
    }
}

const RECAST: (&str, &[&str]) =
    ("recast", &["30 s", "51.2 s", "86.4 s", "145.9 s", "246 s", "418 s", "11 min", "20 min"]);
const LOAD: (&str, &[&str]) = ("load", &["8 g", "13.8 g", "23.6 g", "40.6 g", "69.8 g", "120 g"]);
const LINE: (&str, &[&str]) =
    ("line", &["\"island\"", "\"open\"", "\"the-far-bank-beyond-the-willow\""]);
const BAIT: (&str, &[&str]) = ("bait", &["\"groundbait\"", "\"micro-pellets\""]);

fn sweeps() -> Vec<(&'static str, SweepResult)> {
    let minutes: Vec<String> = (1..=60).map(|min| format!("{min} min")).collect();
    let grams: Vec<String> = (1..=45).map(|g| format!("{g} g")).collect();
    let minutes: Vec<&str> = minutes.iter().map(String::as_str).collect();
    let grams: Vec<&str> = grams.iter().map(String::as_str).collect();
    let mut sampled = invented(&[RECAST, LOAD, LINE, BAIT], 0.4, 40.0);
    let mut number = 0;
    sampled.settings.retain(|_| {
        number += 1;
        number % 3 == 0
    });
    vec![
        ("map", invented(&[LOAD, RECAST], 0.3, 45.0)),
        ("fine-map", invented(&[("load", &grams), ("recast", &minutes)], 0.6, 45.0)),
        ("words-map", invented(&[LINE, BAIT], 0.0, 7.5)),
        ("nothing-map", invented(&[LOAD, RECAST], 0.3, 0.0)),
        ("one-row", invented(&[BAIT, ("recast", &["1 min"])], 0.0, 12.0)),
        ("maps", invented(&[LOAD, RECAST, BAIT], 0.3, 45.0)),
        ("many-maps", invented(&[LOAD, RECAST, ("load_twice", LOAD.1)], 0.5, 45.0)),
        ("effects", sampled),
    ]
}

#[test]
fn maps_and_effects_are_drawn_without_overlaps() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("pictures");
    std::fs::create_dir_all(&folder).expect("a folder for pictures");
    for (what, result) in sweeps() {
        for units in [Metric, Imperial] {
            let pictures = sweep_pictures(&result, units);
            assert_eq!(pictures.len(), 1, "{what}");
            let message = check_layout(what, &pictures[0].1);
            assert!(message.iter().any(|text| text.contains("two-minutes")), "{what}: {message:?}");
        }
        let svg = &sweep_pictures(&result, Imperial)[0].1;
        let size = |name: &str| -> f64 {
            let at =
                svg.split(&format!("{name}=\"")).nth(1).and_then(|rest| rest.split('"').next());
            at.and_then(|number| number.parse().ok()).expect("a size")
        };
        write_pictures(
            &folder,
            &format!("sweep-{what}"),
            svg,
            [360, 720],
            size(" height") / size(" width"),
        );
    }
}

#[test]
fn contours_are_drawn_only_where_numbers_have_no_room() {
    let contours = |name: &str| {
        let (_, result) = sweeps().into_iter().find(|(what, _)| *what == name).expect("a sweep");
        sweep_pictures(&result, Metric)[0].1.matches("opacity=\"0.75\"").count()
    };
    assert_eq!(contours("map"), 0);
    assert!(contours("fine-map") > 0);
}

#[test]
fn a_map_names_the_best_point_and_explains_its_colours() {
    let svg = &sweep_pictures(&invented(&[LOAD, RECAST], 0.4, 45.0), Metric)[0].1;
    let message = check_layout("map", svg);
    for word in [
        "Best mean: 4",
        &unbroken("at load 23.6 g, recast 2 min 26 s"),
        "mean of 400 days",
        "within 2 %",
    ] {
        assert!(message.iter().any(|text| text.contains(word)), "{word} is missing: {message:?}");
    }
    for word in ["load", "recast", "kg", "8 g", "120 g", "30 s", "20 min"].map(unbroken) {
        assert!(message.contains(&word), "{word} is missing: {message:?}");
    }
}

#[test]
fn the_text_names_the_region_that_may_be_as_good() {
    let words = sweep_text(&invented(&[LOAD, RECAST], 0.4, 45.0), Metric);
    for word in [
        "best mean",
        "The best 10 of 48 settings",
        "may be within 2 % of the best",
        "They lie at load 13.8 g to",
    ]
    .map(unbroken)
    {
        assert!(words.contains(&word), "{word} is missing:\n{words}");
    }
    let many = sweep_text(&sweeps().pop().expect("sampled").1, Imperial);
    for words in [words, many] {
        assert!(
            words.lines().all(|line| line.chars().count() <= 100),
            "a line is too long:\n{words}"
        );
    }
}

#[test]
fn a_setting_without_effect_is_reported_as_such() {
    let mut level = invented(&[LOAD, RECAST], 0.4, 45.0);
    for setting in &mut level.settings {
        let plan = &mut setting.plans[0];
        plan.weight_kg.mean.value = 45.0;
        plan.shortfall_kg = Estimate::new(0.0, 0.0, 0.0);
        plan.near_best = true;
    }
    let words = sweep_text(&level, Metric);
    assert!(words.contains("These settings make no difference to this plan."), "{words}");
    check_layout("level", &sweep_pictures(&level, Metric)[0].1);
}
