//! What each mechanism is for: the patterns without it.

use std::fmt::Write;

use sim::scenario::{Alternative, Mechanism};

use super::contrasts::{LogRatio, contrasts};
use super::page::write_part;

/// Days of each case.
const DAYS: u32 = 200;
/// Standard errors from which on a pattern counts as met or as broken.
const CLEAR: f64 = 2.0;

/// How a pattern stands: met, broken, or too close to tell on these days.
fn standing(ratio: LogRatio) -> &'static str {
    let z = ratio.value / ratio.error;
    if z > CLEAR {
        "+"
    } else if z < -CLEAR {
        "−"
    } else {
        "·"
    }
}

/// V-195: every mechanism can be switched off, and a session runs without it.
#[test]
fn every_mechanism_can_be_switched_off() {
    for mechanism in Mechanism::ALL {
        let mut water = crate::demo::demo(&[]);
        let before = water.books.clone();
        water.switch_off(mechanism);
        assert!(water.books != before, "{mechanism:?} changes nothing");
        let day = sim::session::Day::draw(&water, 1, 1);
        let outcome = sim::session::run_session(&water, &water.plans[0], &day);
        assert!(outcome.casts > 0, "{mechanism:?}");
    }
}

/// V-349: every alternative can be built, and gives other sessions than the model.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn every_alternative_gives_other_sessions() {
    let fished = |alternative: Option<Alternative>| {
        let mut water = crate::demo::demo(&[]);
        if let Some(alternative) = alternative {
            water.build_otherwise(alternative);
        }
        let day = |number| sim::session::Day::draw(&water, 1, number);
        let kg = |number| sim::session::run_session(&water, &water.plans[0], &day(number)).weight_g;
        (1..=20).map(kg).collect::<Vec<_>>()
    };
    let plain = fished(None);
    for alternative in Alternative::ALL {
        assert!(fished(Some(alternative)) != plain, "V-349: {alternative:?} changes nothing");
    }
}

/// Writes the table of ablations.
#[test]
#[ignore = "writes a part of tests/TABLES.md; takes some ten minutes"]
fn ablations() {
    let contrasts = contrasts();
    let mut text = String::from("| pattern | claim | factor over 1 | |\n|---|---|---|---|\n");
    let whole: Vec<LogRatio> =
        contrasts.iter().map(|contrast| contrast.log_ratio(None, DAYS)).collect();
    for (contrast, ratio) in contrasts.iter().zip(&whole) {
        let factor = ratio.value.exp();
        let _ = writeln!(
            text,
            "| {} | {} | {factor:.2} ± {:.2} | {} |",
            contrast.name,
            contrast.says,
            factor * ratio.error,
            standing(*ratio)
        );
    }
    let names: Vec<&str> = contrasts.iter().map(|contrast| contrast.name).collect();
    let _ = writeln!(
        text,
        "\nThe same without one mechanism:\n\n| without | {} | moved most |\n|---|{}---|",
        names.join(" | "),
        "---|".repeat(names.len())
    );
    for mechanism in Mechanism::ALL {
        let without: Vec<LogRatio> =
            contrasts.iter().map(|contrast| contrast.log_ratio(Some(mechanism), DAYS)).collect();
        let marks: Vec<&str> = without.iter().map(|ratio| standing(*ratio)).collect();
        let moved = without.iter().zip(&whole).zip(&contrasts);
        let moved = moved.map(|((without, whole), contrast)| {
            let change = without.value - whole.value;
            (change, change / without.error.hypot(whole.error), contrast.name)
        });
        let (change, z, name) =
            moved.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs())).expect("there are contrasts");
        let _ = writeln!(
            text,
            "| {} | {} | {name}: × {:.2} (z = {z:+.1}) |",
            mechanism.words(),
            marks.join(" | "),
            change.exp()
        );
    }
    write_part("Patterns without one mechanism", &text);
}
