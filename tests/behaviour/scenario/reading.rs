//! Reads small scenario texts, with and without errors.

use sim::scenario::{Scenario, read};

/// A line, a shoal and a plan, one in each line of the file.
pub(super) const SMALL: &str = r#"line.bar.distance = "28 m"
shoal.residents.count = 60
plan.patient.recast = "10 min"
"#;

/// Reads a valid text.
pub(super) fn read_valid(text: &str, sets: &[&str]) -> Scenario {
    let sets: Vec<String> = sets.iter().map(|set| (*set).to_owned()).collect();
    read(text, "pond", &sets).unwrap_or_else(|faults| panic!("{faults}\nin\n{text}"))
}

/// The error message for a faulty text.
pub(super) fn error_of(text: &str, sets: &[&str]) -> String {
    let sets: Vec<String> = sets.iter().map(|set| (*set).to_owned()).collect();
    match read(text, "pond", &sets) {
        Ok(_) => panic!("nothing was found wrong with {sets:?} in\n{text}"),
        Err(faults) => faults.to_string(),
    }
}

/// Checks that a message contains all of some words.
#[track_caller]
pub(super) fn contains_all(message: &str, words: &[&str]) {
    for word in words {
        assert!(message.contains(word), "no {word:?} in:\n{message}");
    }
}
