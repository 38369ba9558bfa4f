//! Files next to a scenario, spoiled as whole scenarios are: lessons and learned books. Entries typed on the bank.

use std::sync::LazyLock;

use proptest::prelude::prop;
use sim::catch_log::{BankEntry, BankLog};
use sim::scenario::{
    Diagnostics, Scenario, ScenarioSource, learned_book_text, read_learned_book, read_lessons,
};

use super::generator::spoiled;
use super::inputs::{attack, is_hidden, tape};

static WATER: LazyLock<(ScenarioSource, Scenario)> = LazyLock::new(|| {
    let source = ScenarioSource::new(include_str!("../../../scenarios/tern-bar.toml"), "tern-bar");
    let scenario = source.read(&[]).expect("sound");
    (source, scenario)
});

/// Checks that faults name their file and show nothing that a terminal could obey.
fn check_faults(faults: &Diagnostics, file: &str) {
    assert!(!faults.is_empty());
    for fault in faults.list() {
        let shown = fault.to_string();
        assert!(shown.starts_with(file) && shown.len() < 4000, "{shown}");
        assert!(!shown.contains(is_hidden), "{shown:?} has hidden characters");
    }
}

#[test]
fn spoiled_lessons_are_read_or_refused() {
    let sound = include_str!("../../../scenarios/tern-bar.lessons.toml");
    attack("lessons", 200, tape(60), |mut tape| {
        let text = spoiled(sound, &mut tape);
        match read_lessons(&text, "bar.lessons.toml", &WATER.0) {
            Ok(lessons) => {
                for lesson in lessons {
                    let texts = [&lesson.title, &lesson.question, &lesson.look];
                    let mut shown = texts.into_iter().chain(&lesson.answer);
                    let is_plain =
                        |text: &String| text.lines().all(|line| !line.contains(is_hidden));
                    assert!(shown.all(is_plain), "{lesson:?}");
                }
            }
            Err(faults) => check_faults(&faults, "bar.lessons.toml"),
        }
    });
}

#[test]
fn spoiled_books_are_read_within_their_ranges_or_refused() {
    let scenario = &WATER.1;
    let unknowns = scenario.unknowns();
    let middle: Vec<f64> =
        unknowns.iter().map(|unknown| unknown.parameter.range.iter().sum::<f64>() / 2.0).collect();
    let rows: Vec<_> = unknowns
        .iter()
        .zip(&middle)
        .map(|(unknown, &value)| (unknown, [value; 3], [value; 3]))
        .collect();
    let sound = learned_book_text("", &rows, &vec![middle.clone(); 3]);
    assert!(read_learned_book(&sound, "bar.book.toml", scenario).is_ok());
    attack("learned books", 400, tape(60), |mut tape| {
        let text = spoiled(&sound, &mut tape);
        match read_learned_book(&text, "bar.book.toml", scenario) {
            Ok(book) => {
                assert!(book.draws.iter().flatten().all(|value| value.is_finite()), "{text}");
                assert!(book.draws.iter().all(|row| row.len() == book.targets.len()), "{text}");
            }
            Err(faults) => check_faults(&faults, "bar.book.toml"),
        }
    });
}

/// Pieces of what is typed on the bank, right and wrong.
const PIECES: [&str; 30] = [
    "c",
    "b",
    "y",
    "n",
    "w",
    "s",
    "l bar",
    "h corn",
    "f 25 g",
    "f",
    "t 1 pint",
    "x windy",
    "u",
    "?",
    "9:00 ",
    "9:07:30 ",
    "25:00 ",
    " ",
    "3 lb 4 oz",
    "-1 kg",
    "1e999 kg",
    "carp",
    "\"",
    ",",
    ";",
    "\u{202e}",
    "\u{1b}[2J",
    "\u{0}",
    "٣",
    "l ",
];

#[test]
fn entries_on_the_bank_leave_a_log_that_can_be_read_or_are_refused() {
    let entries = prop::collection::vec(prop::sample::select(&PIECES[..]), 1..4);
    let entries = prop::collection::vec(entries, 1..12);
    attack("entries on the bank", 400, entries, |entries| {
        let mut log = BankLog::open("", "bank.csv", "sunday", "2026-06-07").expect("a new log");
        for (number, entry) in entries.iter().enumerate() {
            let typed = entry.concat();
            let timed = match BankEntry::parse(&typed) {
                Ok(Some(timed)) => timed,
                Ok(None) => continue,
                Err(message) => {
                    assert!(!message.is_empty(), "{typed:?}");
                    continue;
                }
            };
            let time_s = timed.time_s.unwrap_or(32_400.0 + 60.0 * number as f64);
            let before = log.text().to_owned();
            match log.record(&timed.entry, time_s) {
                // Its text can be opened again as it is.
                Ok(_) => {
                    let again = BankLog::open(log.text(), "bank.csv", "sunday", "2026-06-07");
                    let again = again.unwrap_or_else(|faults| panic!("{faults}\n{}", log.text()));
                    assert_eq!(again.text(), log.text());
                }
                Err(message) => {
                    assert!(!message.is_empty(), "{typed:?}");
                    assert_eq!(log.text(), before, "a refused entry changes nothing");
                }
            }
        }
    });
}
