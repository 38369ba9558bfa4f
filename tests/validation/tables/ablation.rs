//! What each mechanism is for: the patterns without it.

use std::fmt::Write;

use sim::scenario::{Alternative, Mechanism};

use super::contrasts::{Contrast, LogRatio, Variation, contrasts};
use super::page::write_part;

/// Days of each case.
const DAYS: u32 = 200;
/// Days of each case of a row of a book.
const DAYS_OF_ROWS: u32 = 100;
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
        contrasts.iter().map(|contrast| contrast.log_ratio(Variation::Whole, DAYS)).collect();
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
        let cells = varied(&contrasts, &whole, Variation::Without(mechanism), DAYS);
        let _ = writeln!(text, "| {} | {cells}", mechanism.words());
    }
    write_part("Patterns without one mechanism", &text);
}

/// Cells of a row: how each pattern stands in a changed model on those days, and which of them moved most.
fn varied(contrasts: &[Contrast], whole: &[LogRatio], variation: Variation, days: u32) -> String {
    let now: Vec<LogRatio> =
        contrasts.iter().map(|contrast| contrast.log_ratio(variation, days)).collect();
    let marks: Vec<&str> = now.iter().map(|ratio| standing(*ratio)).collect();
    let moved = now.iter().zip(whole).zip(contrasts).map(|((now, whole), contrast)| {
        let change = now.value - whole.value;
        (change, change / now.error.hypot(whole.error), contrast.name)
    });
    let (change, z, name) =
        moved.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs())).expect("there are contrasts");
    format!("{} | {name}: × {:.2} (z = {z:+.1}) |", marks.join(" | "), change.exp())
}

/// Central values that were moved within their ranges while the patterns were looked at together: the row, what it was, and
/// what it is.
const MOVED: [(&str, &str, &str); 7] = [
    ("angler.wind_cast_s_per_m", "0.08", "0.16"),
    ("fish.cold_width_c", "1", "1.5"),
    ("fish.dusk_motivation", "0.2", "0.5"),
    ("fish.handling_s", "12", "8"),
    ("fish.hookbait_notice", "2", "2.5"),
    ("fish.item_limit_gapes", "0.55", "0.45"),
    ("fish.naive_readiness", "0.2", "0.15"),
];

/// V-197: writes the table of central values that were moved for the patterns.
#[test]
#[ignore = "writes a part of tests/TABLES.md; takes some minutes"]
fn moved_values() {
    let contrasts = contrasts();
    let whole: Vec<LogRatio> = contrasts
        .iter()
        .map(|contrast| contrast.log_ratio(Variation::Whole, DAYS_OF_ROWS))
        .collect();
    let names: Vec<&str> = contrasts.iter().map(|contrast| contrast.name).collect();
    let mut text = format!(
        "{DAYS_OF_ROWS} days of each case. Each row has its former value on every day, and all others are drawn as ever. Signs as in the table before; the factor \
         is that of a pattern over what it is today.\n\n| row | was | is | {} | moved most |\n|---|---|---|{}---|\n",
        names.join(" | "),
        "---|".repeat(names.len())
    );
    for (row, was, is) in MOVED {
        let set: &'static str = format!("book.{row}={was}").leak();
        let cells = varied(&contrasts, &whole, Variation::With(set), DAYS_OF_ROWS);
        let _ = writeln!(text, "| `{row}` | {was} | {is} | {cells}");
    }
    write_part("Central values that were moved for the patterns", &text);
}
